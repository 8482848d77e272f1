// The worker of `npm run evaluate`.
import { answerJobs } from "../accuracy/answer.ts";
import { BARS } from "./bars.ts";

answerJobs(BARS);

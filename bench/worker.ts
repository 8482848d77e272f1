// The worker of `npm run bench`.
import { answerJobs } from "../accuracy/answer.ts";
import { BARS } from "./bars.ts";

answerJobs(BARS);

// The worker of `npm run storm`.
import { answerJobs } from "../accuracy/answer.ts";
import { BARS } from "./bars.ts";

answerJobs(BARS);

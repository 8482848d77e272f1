// The worker of `npm run test:page`.
import { answerJobs } from "../accuracy/answer.ts";
import { BARS } from "./bars.ts";

answerJobs(BARS);

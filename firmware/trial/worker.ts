// The worker of `npm run test:firmware`.
import { answerJobs } from "../../accuracy/answer.ts";
import { BARS } from "./bars.ts";

answerJobs(BARS);

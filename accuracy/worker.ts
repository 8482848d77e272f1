// The worker of `npm run accuracy`.
import { answerJobs } from "./answer.ts";
import { BARS } from "./bars.ts";

answerJobs(BARS);

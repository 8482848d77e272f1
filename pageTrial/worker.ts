// The worker of `npm run test:page` and `npm run bench:page`.
import { answerJobs } from "../accuracy/answer.ts";
import { BARS } from "./bars.ts";
import { BENCH_BARS } from "./benchBars.ts";

answerJobs([...BARS, ...BENCH_BARS]);

// A timer in a worker: browsers slow the timers of a tab in the background to one a second, which
// would stop the motor. The sign of life itself is sent by the page, so a frozen page still ends it.
const EVERY_MS = 250;

setInterval(() => self.postMessage(null), EVERY_MS);

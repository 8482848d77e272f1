// Which record goes with which job: a row of its own, since records are never edited.
import type { Tabled } from "./asked.ts";

/** The record goes with this job from now on, whatever it went with before. */
export function attaching(db: Tabled, recordId: string, jobId: string) {
  return db
    .insertInto("job_records")
    .values({ record_id: recordId, job_id: jobId })
    .onConflict((conflict) => conflict.column("record_id").doUpdateSet({ job_id: jobId }));
}

/** A worker of a season's run: started by the command, gets one field at a time, ends when the command is gone. */
import process from "node:process";
import { type FieldTask, workOnField } from "./field-task.ts";

// Without the command there is nobody to put the results in their place.
process.on("disconnect", () => process.exit(0));
// An interrupt of the terminal reaches the workers too; the command decides what becomes of them.
process.on("SIGINT", () => {});
process.on("message", async (task: FieldTask) => {
  const answer = await workOnField(task);
  process.send?.({ answer, rssBytes: process.memoryUsage.rss() });
});
process.send?.({ ready: true });

/** A worker of a season's run: started by the command, gets one field at a time, ends when the command is gone. */
import process from "node:process";
import { type FieldTask, workOnField } from "./field-task.ts";

// Without the command there is nobody to put the results in their place.
process.on("disconnect", () => process.exit(0));
// An interrupt of the terminal reaches the workers too; the command decides what becomes of them.
process.on("SIGINT", () => {});
/** While a field is worked on nothing else is heard: here the end of the command is. */
async function untilWanted(): Promise<void> {
  await new Promise((resolve) => setTimeout(resolve, 1));
  if (!process.connected) process.exit(0);
}

process.on("message", async (task: FieldTask) => {
  const answer = await workOnField(task, untilWanted);
  process.send?.({ answer, rssBytes: process.memoryUsage.rss() });
});
process.send?.({ ready: true });

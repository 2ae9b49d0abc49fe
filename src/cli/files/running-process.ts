/** Whether a process of this machine is still there. */
import process from "node:process";

/** True where the process runs, also where it is another user's. Our own number counts as no other run's. */
export function isRunning(processNumber: number): boolean {
  if (processNumber === process.pid) return false;
  try {
    process.kill(processNumber, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}

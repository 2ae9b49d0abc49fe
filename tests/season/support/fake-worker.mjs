// A worker for the tests of the pool: does what its task says.
const filled = [];
process.on("disconnect", () => process.exit(0));
process.on("message", (task) => {
  if (task.do === "hang") for (;;) Math.sqrt(2);
  if (task.do === "crash") process.abort();
  if (task.do === "exit") {
    process.stderr.write("Error: it broke\n");
    process.exit(7);
  }
  if (task.do === "fill" || task.do === "keep") {
    for (let k = 0; k < task.mebibytes; k++) filled.push(Buffer.alloc(1 << 20, 1));
    if (task.do === "fill") return setTimeout(() => answer(task), 3000);
  }
  setTimeout(() => answer(task), task.ms ?? 1);
});
function answer(task) {
  process.send({ answer: { name: task.name, process: process.pid }, rssBytes: process.memoryUsage.rss() });
}
process.send({ ready: true });

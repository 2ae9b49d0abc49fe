/** Processor seconds of the stages of a piece of work in this process. */
export class Stages {
  seconds = {};

  async run(name, work) {
    const before = process.cpuUsage();
    const result = await work();
    const { user, system } = process.cpuUsage(before);
    this.seconds[name] = (user + system) / 1e6;
    return result;
  }

  /** Prints them as the last line, for the script that started this one. */
  print() {
    process.stdout.write(`${JSON.stringify(this.seconds)}\n`);
  }
}

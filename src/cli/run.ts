/** The command line: options, help, and what each command gets. */
import { Command, CommanderError, InvalidArgumentError, Option } from "commander";
import { CHANNELS, DOWN_FORCE_SYSTEMS } from "../prescription/prescription.ts";
import { USUAL_SCOUTING } from "../scout/usual-scouting.ts";
import { LANGUAGES } from "../texts/language.ts";
import { MOISTURES } from "../vocabulary/moisture.ts";
import { ALL_TASK_FILES, taskFileKindName } from "../write/iso11783/kinds.ts";
import type { AnalyseFlags } from "./commands/analyse.ts";
import type { CheckFlags } from "./commands/check.ts";
import type { PrescribeFlags } from "./commands/prescribe.ts";
import type { ProofFlags } from "./commands/proof.ts";
import type { ReplantFlags } from "./commands/replant.ts";
import type { ScoutFlags } from "./commands/scout.ts";
import type { SetUpFlags } from "./commands/setup-sheet.ts";
import { packageVersion } from "./files/package-root.ts";
import type { MergeFlags } from "./season/season-merge.ts";
import type { SeasonFlags } from "./season/season-run.ts";
import { describeFailure, EXIT } from "./terminal/failure.ts";
import type { Io } from "./terminal/io.ts";
import { cleaningIo } from "./terminal/printed.ts";

/**
 * Runs one command line.
 * @param argv arguments without the program's name.
 * @returns the exit code: 0 done, 1 a fault of ours, 2 the command line is wrong, 3 an input cannot be used, 4 fields of a
 * season are left out.
 */
export async function run(argv: readonly string[], world: Io): Promise<number> {
  const io = cleaningIo(world);
  let exitCode: number = EXIT.done;
  const program = buildProgram(io, (code) => {
    exitCode = code;
  });
  try {
    await program.parseAsync([...argv], { from: "user" });
    return exitCode;
  } catch (error) {
    if (error instanceof CommanderError) {
      // Help and version end parsing the same way as a mistake does; commander has printed either.
      return error.exitCode === 0 ? EXIT.done : EXIT.commandLineWrong;
    }
    const failure = describeFailure(error, Boolean(io.environment.EVENSTAND_DEBUG));
    io.err(failure.message);
    return failure.exitCode;
  }
}

/** @param endWith called by a command that ends with a code of its own */
function buildProgram(io: Io, endWith: (code: number) => void): Command {
  const program = new Command("evenstand")
    .description("Finds where an uneven stand comes from, what it cost and what to change.")
    .version(packageVersion(), "--version", "show the version")
    .helpOption("--help", "show this help")
    .helpCommand(false)
    .exitOverride()
    .configureOutput({ writeOut: io.out, writeErr: io.err })
    .showHelpAfterError("Run with --help to see what is accepted.");

  command(program, "inspect", "show what is in files: geometry, coordinates, columns, trouble")
    .argument("<file...>", "GeoJSON, shapefile (.shp or .zip) or CSV files")
    .option("--manifest <path>", "write a starting field manifest for these files")
    .action(async (files: string[], options: { manifest?: string }) => {
      const { inspect } = await import("./commands/inspect.ts");
      await inspect(files, options, io);
    });

  command(program, "analyse", "find the places, their causes, their cost; write tables, map layers, report")
    .argument("<field>", "field manifest, or a folder that holds field.json")
    .requiredOption("--out <folder>", "folder for the results; made where missing")
    .option(
      "--pdf",
      "write report.pdf and in-short.pdf (two pages) too, printed by an installed Chromium (PATH, or CHROMIUM names it)",
    )
    .addOption(
      new Option("--paper <size>", "paper of the PDF files").choices(["letter", "a4"]).default("letter"),
    )
    .addOption(
      new Option(
        "--language <tag>",
        "language of the findings and of the report; the frame of what is printed here stays English",
      )
        .choices([...LANGUAGES])
        .default("en"),
    )
    .option("--json", "print findings.json to standard output instead of the findings in words")
    .option("--timings", "print processor time per stage to standard error")
    .option("--allow-outside", "let the manifest name files outside its own folder")
    .action(async (field: string, options: AnalyseFlags) => {
      const { analyse } = await import("./commands/analyse.ts");
      await analyse(field, options, io);
    });

  command(program, "check", "look at the first passes of an unfinished log: what to change now, where to dig")
    .argument("<log>", "planting log as it is so far; or a field manifest, or a folder that holds field.json")
    .option("--manifest <path>", "field manifest with targets and planter; its other files are not read")
    .option("--last <path>", "findings.json of last year, or the folder of results that holds it")
    .option("--json", "print the figures as JSON")
    .option("--allow-outside", "let the manifest name files outside its own folder")
    .action(async (log: string, options: CheckFlags) => {
      const { check } = await import("./commands/check.ts");
      await check(log, options, io);
    });

  command(program, "scout", "choose where to count next; write forms to print and to type into")
    .argument("<field>", "field manifest, or a folder that holds field.json")
    .requiredOption("--out <folder>", "folder for the forms; made where missing")
    .option("--spots <number>", "how many spots to count", wholeNumber(1, 500), USUAL_SCOUTING.spots)
    .option("--digs <number>", "at how many of them to dig", wholeNumber(0, 500), USUAL_SCOUTING.digs)
    .option("--allow-outside", "let the manifest name files outside its own folder")
    .action(async (field: string, options: ScoutFlags) => {
      const { scout } = await import("./commands/scout.ts");
      await scout(field, options, io);
    });

  command(program, "replant", "keep the stand or replant it, by the published worksheets")
    .argument("<field>", "field manifest, or a folder that holds field.json")
    .option("--on <date>", "day of replanting, such as 2026-05-28 (else ten days after the last count)")
    .option("--stand <stand>", 'stand of the field where nobody counted, such as "18000 plants/ac"')
    .option("--replant-stand <stand>", "stand after replanting (else 92.5 % of the target)")
    .option("--destroy-cost <cost>", 'destroying the old stand, such as "12 USD/ac"')
    .option("--plant-cost <cost>", "planting again")
    .option("--seed-cost <cost>", "seed (else the target rate at the price of the manifest)")
    .option("--other-cost <cost>", "drying, spraying, a lost rebate and the like")
    .option("--insurance <money>", "what the insurer pays towards it")
    .option("--grain <price>", 'price of grain in place of the manifest\'s, such as "4.50 USD/bu"')
    .option("--expected-yield <yield>", 'yield of a full stand, such as "200 bu/ac"')
    .addOption(
      new Option("--gaps <size>", "gaps in the stand: corn small 1 to 3 ft, large 4 to 6 ft and many")
        .choices(["unknown", "none", "small", "large"])
        .default("unknown"),
    )
    .option("--json", "print the figures as JSON")
    .option("--allow-outside", "let the manifest name files outside its own folder")
    .action(async (field: string, options: ReplantFlags) => {
      const { replant } = await import("./commands/replant.ts");
      await replant(field, options, io);
    });

  command(program, "prescribe", "down force by soil zone: cab sheet, zones, task files for the machine")
    .argument("<field>", "field manifest, or a folder that holds field.json")
    .requiredOption("--out <folder>", "folder for the files; made where missing")
    .addOption(
      new Option(
        "--moisture <state>",
        "state of the ground the files are for (else the manifest's, else fit)",
      ).choices(MOISTURES),
    )
    .addOption(
      new Option("--channel <quantity>", "what the machine's channel takes: look into its manual").choices(
        CHANNELS,
      ),
    )
    .option("--minimum <load>", 'smallest load on the gauge wheels, such as "60 lbf"')
    .option("--maximum <load>", "largest load on the gauge wheels")
    .option("--largest-step <load>", 'largest step from today\'s load (else "40 lbf")')
    .option("--rate-step <load>", 'loads are whole multiples of this, such as "5 lbf"')
    .addOption(
      new Option(
        "--system <kind>",
        "kind of down-force system: sets its lag, and a pressure is written only where it is given",
      ).choices(DOWN_FORCE_SYSTEMS),
    )
    .option("--lag <time>", 'lag of the down-force system (else that of its kind, or "10 s")')
    .option("--smallest-area <area>", 'smallest zone (else "0.6 ha")')
    .option("--most-rates <number>", "how many distinct rates (else 8)", wholeNumber(1, 16))
    .option("--grid-cell <length>", 'side of a cell of the grid task files (else "10 m")')
    .option("--outside <load>", "load sent outside the boundary (else today's mean)")
    .option("--lost-position <load>", "load sent on lost position (else today's mean)")
    .option("--no-proof-strips", "leave no strips at today's load for next year's proof")
    .option("--flat", "write files of one load over the whole field where no zone changes")
    .option("--allow-uncovered", "write files though ground lies outside boundary or soil map")
    .option("--load <zone=load...>", 'loads set by hand, such as "clay loam=95 lbf"')
    .option(
      "--task-files <kinds...>",
      `task files to write: all, none, or of ${ALL_TASK_FILES.map(taskFileKindName).join(", ")}`,
      (kind: string, kinds: string[] | undefined) => [...(kinds ?? []), kind],
    )
    .option("--json", "print prescription.json to standard output instead of the loads in words")
    .option("--allow-outside", "let the manifest name files outside its own folder")
    .action(async (field: string, options: PrescribeFlags) => {
      const { prescribeCommand } = await import("./commands/prescribe.ts");
      await prescribeCommand(field, options, io);
    });

  command(
    program,
    "proof",
    "did the new loads pay: the strips left at the old ones against the ground beside",
  )
    .argument(
      "<field>",
      "field manifest, or a folder that holds field.json, of the season planted by the zones",
    )
    .requiredOption("--zones <file>", 'the zones sent: GeoJSON or shapefile that "evenstand prescribe" wrote')
    .option("--out <folder>", "folder for the result and the places to count; made where missing")
    .option("--json", "print the result to standard output instead of words")
    .option("--allow-outside", "let the manifest name files outside its own folder")
    .action(async (field: string, options: ProofFlags) => {
      const { proof } = await import("./commands/proof.ts");
      await proof(field, options, io);
    });

  command(
    program,
    "setup-sheet",
    "what to go over on the planter before spring, from results, to print and tick",
  )
    .argument(
      "<results...>",
      "folders of results, or findings.json files; fields of one planter share a sheet",
    )
    .requiredOption("--out <file>", "page to write, such as set-up-sheet.html")
    .action(async (results: string[], options: SetUpFlags) => {
      const { setUpCommand } = await import("./commands/setup-sheet.ts");
      await setUpCommand(results, options, io);
    });

  command(program, "open", "show the map and the findings in your browser, from this machine only")
    .argument("[field]", "field manifest, or a folder that holds field.json")
    .option("--port <number>", "port on 127.0.0.1 (0: any free one)", portNumber, 0)
    .option("--allow-outside", "let the manifest name files outside its own folder")
    .action(async (field: string | undefined, options: { port: number; allowOutside?: boolean }) => {
      const { open } = await import("./commands/open.ts");
      await open(field, options, io);
    });
  addSeason(program, io, endWith);
  return program;
}

function addSeason(program: Command, io: Io, endWith: (code: number) => void): void {
  const season = command(program, "season", "many fields: run them all, and see what they say together");
  command(season, "run", "analyse every field that is not done yet; then the page of the season")
    .argument("<season>", "season.json, or a folder of fields with or without one")
    .requiredOption("--out <folder>", "folder for the results; made where missing")
    .option("--workers <number>", "fields worked on at once (else one for each core)", wholeNumber(1, 256))
    .option("--shard <i/n>", "only part i of n, for many machines; then season merge", shardOption)
    .option(
      "--time-limit <seconds>",
      "longest time for a field; one that takes longer is left out",
      wholeNumber(1, 604_800),
    )
    .option(
      "--memory-limit <MiB>",
      "most memory for a field; one that takes more is left out",
      wholeNumber(64, 1_048_576),
    )
    .option("--no-reports", "leave out the fields' own report.html (some 2 MB each)")
    .option("--json", "print season-findings.json to standard output instead of the season in words")
    .option("--allow-outside", "let manifests name fields and files outside their own folders")
    .action(async (named: string, options: SeasonFlags) => {
      const { runSeason } = await import("./season/season-run.ts");
      endWith(await runSeason(named, options, io));
    });
  command(season, "merge", "join what the parts of a season have worked out")
    .argument("<folder>", "folder of the results")
    .option("--json", "print season-findings.json to standard output instead of the season in words")
    .action(async (named: string, options: MergeFlags) => {
      const { mergeSeason } = await import("./season/season-merge.ts");
      endWith(await mergeSeason(named, options, io));
    });
}

/** A command that inherits how the program ends, prints and helps. */
function command(program: Command, name: string, description: string): Command {
  return program
    .command(name)
    .description(description)
    .helpOption("--help", "show this help")
    .copyInheritedSettings(program);
}

function wholeNumber(least: number, most: number): (text: string) => number {
  return (text) => {
    const value = Number(text);
    if (!/^\d+$/.test(text) || value < least || value > most)
      throw new InvalidArgumentError(`A whole number from ${least} to ${most} is needed.`);
    return value;
  };
}

function shardOption(text: string): NonNullable<SeasonFlags["shard"]> {
  const [, i, n] = /^(\d{1,6})\/(\d{1,6})$/.exec(text) ?? [];
  const [shard, shards] = [Number(i), Number(n)];
  if (!(shard >= 1 && shard <= shards))
    throw new InvalidArgumentError("Part and number of parts are needed, such as 2/8, the first being 1/8.");
  return { shard, shards };
}

function portNumber(text: string): number {
  const port = Number(text);
  if (!/^\d+$/.test(text) || port > 65_535) {
    throw new InvalidArgumentError("A port is a whole number from 0 to 65535.");
  }
  return port;
}

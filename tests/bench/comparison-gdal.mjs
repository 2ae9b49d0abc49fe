// The work of `comparison.mjs` with GDAL and SQLite: ogr2ogr reads, reprojects and writes a SpatiaLite file, whose SQL joins
// and groups (quantiles by window functions). Usage: node comparison-gdal.mjs log.shp soil.geojson results.csv
import { spawnSync } from "node:child_process";
import { rmSync } from "node:fs";
import { VARIABLES } from "./comparison-variables.mjs";

const [log, soil, results] = process.argv.slice(2);
const database = `${results}.sqlite`;
for (const file of [database, results]) rmSync(file, { force: true });

const seconds = {};
/** Runs a program and books its processor time, which this process is told when it has ended, under a stage. */
function run(stage, program, words) {
  const before = childSeconds();
  const child = spawnSync(program, words, { encoding: "utf8" });
  if (child.status !== 0) {
    process.stderr.write(`${program}: ${(child.stderr || String(child.error)).slice(0, 500)}\n`);
    process.exit(1);
  }
  seconds[stage] = (seconds[stage] ?? 0) + childSeconds() - before;
}

/** Processor seconds of the programs that this one has waited for (Linux: fields 16 and 17 of its own record of itself). */
function childSeconds() {
  const { stdout } = spawnSync("sh", ["-c", `cut -d')' -f2 /proc/${process.pid}/stat; getconf CLK_TCK`], {
    encoding: "utf8",
  });
  const [fields, ticks] = stdout.trim().split("\n");
  const parts = fields.trim().split(" ");
  return (Number(parts[13]) + Number(parts[14])) / Number(ticks);
}

const write = ["-f", "SQLite", "-gt", "100000", "--config", "OGR_SQLITE_SYNCHRONOUS", "OFF"];
const toMetres = ["-t_srs", "EPSG:32615"];
run("read", "ogr2ogr", [...write, "-dsco", "SPATIALITE=YES", ...toMetres, "-nln", "log", database, log]);
run("read", "ogr2ogr", [...write, "-update", ...toMetres, "-nln", "soil", database, soil]);
const sql = (stage, statement) => run(stage, "ogrinfo", ["-q", database, "-sql", statement]);
sql(
  "join",
  `create table zoned as select log.*, (select soil.MUNAME from soil where soil.rowid in (select rowid from SpatialIndex
    where f_table_name = 'soil' and search_frame = log.GEOMETRY) and ST_Intersects(soil.GEOMETRY, log.GEOMETRY)
    order by soil.rowid limit 1) as zone from log`,
);
const rank = (probability) => `(n - 1) * ${probability}`;
const quantile = (probability) => {
  const below = `cast(${rank(probability)} as int)`;
  return `max(case when place = ${below} then value end) + (${rank(probability)} - ${below}) * coalesce(
    max(case when place = ${below} + 1 then value end) - max(case when place = ${below} then value end), 0)`;
};
for (const name of VARIABLES) {
  sql(
    "group",
    `create table ${name}_groups as with ranked as (select pass, zone, ${name} as value,
      row_number() over (partition by pass, zone order by ${name}) - 1 as place, count(*) over (partition by pass, zone) as n,
      avg(${name}) over (partition by pass, zone) as middle from zoned where zone is not null)
      select pass, replace(zone, ',', ';') as zone, '${name}' as variable, max(n) as n, max(middle) as mean,
      sqrt(sum((value - middle) * (value - middle)) / (max(n) - 1)) as sd,
      ${[0.1, 0.5, 0.9].map((probability, k) => `${quantile(probability)} as q${k}`).join(", ")} from ranked group by pass, zone`,
  );
}
sql(
  "cells",
  `create table cell as with start as (select pass, min(ST_Y(GEOMETRY)) as south from zoned group by pass)
    select zoned.pass, cast((ST_Y(GEOMETRY) - south) / 12 as int) as piece, count(*) as n, ${VARIABLES.map((name) => `avg(${name}) as ${name}`).join(", ")}
    from zoned join start using (pass) group by 1, 2`,
);
const union = VARIABLES.map((name) => `select * from ${name}_groups`).join(" union all ");
run("group", "ogr2ogr", ["-f", "CSV", results, database, "-sql", union]);
rmSync(database, { force: true });
process.stdout.write(`${JSON.stringify(seconds)}\n`);

// The work of `comparison.mjs` in DuckDB on one thread. Its spatial extension is not in the package registry, so the log comes
// as CSV, is not reprojected, and the join is SQL: edges of the soil polygons in horizontal slabs, even-odd rule, in degrees.
// Usage: node comparison-duckdb.mjs log.csv soil.geojson results.csv FOLDER NAME-OF-THE-PACKAGE
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { VARIABLES } from "./comparison-variables.mjs";
import { Stages } from "./stages.mjs";

const [log, soil, results, packages, name] = process.argv.slice(2);
const require = createRequire(join(packages, "package.json"));
const { DuckDBInstance } = await import(pathToFileURL(require.resolve(name)));
const database = await (await DuckDBInstance.create(":memory:", { threads: "1" })).connect();
const run = (sql) => database.run(sql);
const text = (value) => `'${value.replaceAll("'", "''")}'`;
const stages = new Stages();

await stages.run("read", async () => {
  await run(`create table log as select row_number() over () as id, * from read_csv(${text(log)})`);
});
await stages.run("join", async () => {
  const edges = [];
  const { features } = JSON.parse(readFileSync(soil, "utf8"));
  features.forEach(({ properties, geometry }, polygon) => {
    for (const ring of geometry.coordinates)
      for (let k = 0; k + 1 < ring.length; k++)
        if (ring[k][1] !== ring[k + 1][1])
          edges.push([polygon, text(properties.MUNAME), ...ring[k], ...ring[k + 1]]);
  });
  await run("create table edge (polygon int, zone text, x1 double, y1 double, x2 double, y2 double)");
  for (let from = 0; from < edges.length; from += 5000)
    await run(
      `insert into edge values ${edges
        .slice(from, from + 5000)
        .map((edge) => `(${edge.join(",")})`)
        .join(",")}`,
    );
  await run(`create table slab as
    with box as (select polygon, min(least(x1, x2)) as west, max(greatest(x1, x2)) as east from edge group by polygon),
    bounds as (select min(least(y1, y2)) as south, (max(greatest(y1, y2)) - min(least(y1, y2))) / 2000 as height from edge)
    select edge.*, west, east, unnest(range(floor((least(y1, y2) - south) / height)::int, floor((greatest(y1, y2) - south) / height)::int + 1)) as slab
    from edge join box using (polygon), bounds`);
  await run(`create table zoned as
    with bounds as (select min(least(y1, y2)) as south, (max(greatest(y1, y2)) - min(least(y1, y2))) / 2000 as height from edge),
    placed as (select id, LON, LAT, floor((LAT - south) / height)::int as slab from log, bounds),
    inside as (select id, polygon from placed join slab using (slab)
      where LON >= west and LON <= east and (y1 > LAT) <> (y2 > LAT) and LON < x1 + (LAT - y1) / (y2 - y1) * (x2 - x1)
      group by id, polygon having count(*) % 2 = 1),
    first as (select id, min(polygon) as polygon from inside group by id),
    names as (select distinct polygon, zone from edge)
    select log.*, names.zone from log left join first using (id) left join names using (polygon)`);
});
const rows = await stages.run("group", async () => {
  const figures = VARIABLES.map(
    (name) => `avg(${name}), stddev_samp(${name}), quantile_cont(${name}, [0.1, 0.5, 0.9])`,
  ).join(", ");
  const answer = await database.runAndReadAll(
    `select PASS, zone, count(*), ${figures} from zoned where zone is not null group by PASS, zone`,
  );
  return answer.getRows();
});
await stages.run("cells", () =>
  run(`create table cell as with start as (select PASS, min(LAT) as south from zoned group by PASS)
    select PASS, floor((LAT - south) * 111075 / 12) as piece, count(*) as n, mode(zone) as zone, ${VARIABLES.map((name) => `avg(${name}) as ${name}`).join(", ")}
    from zoned join start using (PASS) group by PASS, piece`),
);
const lines = rows.flatMap(([pass, zone, count, ...figures]) =>
  VARIABLES.map((name, k) => {
    const [mean, sd, quantiles] = figures.slice(3 * k, 3 * k + 3);
    return [pass, zone.replace(",", ";"), name, count, mean, sd, ...(quantiles.items ?? quantiles)].join(",");
  }),
);
writeFileSync(results, `${lines.join("\n")}\n`);
stages.print();

// Pushes N small records over HTTP, both ways PouchDB has: bulk writes of 1000, and replication. Prints seconds.
import PouchDB from "pouchdb";

const [url, folder, count] = process.argv.slice(2);
const records = JSON.parse((await import("node:fs")).readFileSync(0, "utf8")).slice(0, Number(count));

const remote = new PouchDB(`${url}/bulk`);
await remote.info();
let begun = performance.now();
for (let at = 0; at < records.length; at += 1000) {
  const answers = await remote.bulkDocs(records.slice(at, at + 1000));
  if (answers.some((answer) => answer.error)) throw new Error("a record was refused");
}
const bulk = (performance.now() - begun) / 1000;

const local = new PouchDB(`${folder}/local`);
for (let at = 0; at < records.length; at += 1000) await local.bulkDocs(records.slice(at, at + 1000));
const target = new PouchDB(`${url}/replica`);
await target.info();
begun = performance.now();
const told = await PouchDB.replicate(local, target, { batch_size: 1000, batches_limit: 4 });
if (told.docs_written !== records.length) throw new Error(`only ${told.docs_written} arrived`);
const replicate = (performance.now() - begun) / 1000;
console.log(JSON.stringify({ bulk, replicate }));
process.exit(0);

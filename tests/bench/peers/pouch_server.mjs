// A CouchDB-speaking server on LevelDB: the peer for pushing and pulling small records.
import express from "express";
import makeApp from "express-pouchdb";
import PouchDB from "pouchdb";

const [folder, port] = process.argv.slice(2);
const OnDisk = PouchDB.defaults({ prefix: `${folder}/` });
const app = express();
app.use("/", makeApp(OnDisk, { mode: "minimumForPouchDB", logPath: `${folder}/log.txt`, inMemoryConfig: true }));
app.listen(Number(port), "127.0.0.1", () => console.log("ready"));

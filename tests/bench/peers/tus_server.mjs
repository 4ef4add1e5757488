// The reference tus server on a folder: the peer for uploads.
import { FileStore } from "@tus/file-store";
import { Server } from "@tus/server";

const [folder, port] = process.argv.slice(2);
const server = new Server({ path: "/files", datastore: new FileStore({ directory: folder }) });
server.listen({ host: "127.0.0.1", port: Number(port) }, () => console.log("ready"));

// Uploads every file of a folder with tus-js-client, FOUR at a time, and prints seconds and bytes.
// Arguments: endpoint, folder, and headers as JSON. The same client feeds both servers.
import fs from "node:fs";
import path from "node:path";
import crypto from "node:crypto";
import { Upload } from "tus-js-client";

const [endpoint, folder, headers = "{}"] = process.argv.slice(2);
const AT_A_TIME = 4;
const files = fs.readdirSync(folder).sort().map((name) => {
  const bytes = fs.readFileSync(path.join(folder, name));
  return { name, bytes, sha256: crypto.createHash("sha256").update(bytes).digest("hex") };
});

function send({ name, bytes, sha256 }) {
  return new Promise((resolve, reject) => {
    new Upload(bytes, {
      endpoint,
      headers: JSON.parse(headers),
      metadata: { filename: name, sha256, type: "image/jpeg" },
      retryDelays: [],
      storeFingerprintForResuming: false,
      onError: reject,
      onSuccess: resolve,
    }).start();
  });
}

const begun = performance.now();
const waiting = [...files];
await Promise.all(
  Array.from({ length: AT_A_TIME }, async () => {
    for (let file = waiting.shift(); file; file = waiting.shift()) await send(file);
  }),
);
const seconds = (performance.now() - begun) / 1000;
console.log(JSON.stringify({ seconds, bytes: files.reduce((sum, file) => sum + file.bytes.length, 0), files: files.length }));

// Sends one file with tus-js-client, breaking off once on the way if asked to; prints what the client believes.
// Arguments: module path of tus-js-client, endpoint, file, token, "whole" or "broken".
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";

const [client, endpoint, file, token, how] = process.argv.slice(2);
const tus = await import(client);
const bytes = readFileSync(file);
const sha256 = createHash("sha256").update(bytes).digest("hex");
const told = { requests: [], offsets: [] };

function send(afterChunk) {
  return new Promise((resolve, reject) => {
    const upload = new tus.Upload(bytes, {
      endpoint,
      chunkSize: 200_000,
      headers: { Authorization: `Bearer ${token}` },
      metadata: { sha256, type: "image/jpeg" },
      retryDelays: [0, 100, 200],
      storeFingerprintForResuming: false,
      onBeforeRequest: (request) => told.requests.push(request.getMethod()),
      onChunkComplete: (_size, accepted) => {
        told.offsets.push(accepted);
        afterChunk?.(upload, accepted, resolve);
      },
      onError: reject,
      onSuccess: resolve,
      uploadUrl: told.url ?? null,
    });
    upload.start();
    told.started = upload;
  });
}

if (how === "broken") {
  await send((upload, accepted, resolve) => {
    if (accepted >= bytes.length * 0.4) {
      told.url = upload.url;
      upload.abort().then(resolve);
    }
  });
  told.brokenAt = told.offsets.at(-1);
}
await send();
told.url = told.started.url;
delete told.started;
console.log(JSON.stringify(told));

// Names that page, worker and service worker agree on; worker/what.ts holds the same two, since it looks into no other room.

/** One cache for each list of parts, named after it. No update of the app drops them. */
export const CACHES = 'witnessmark-speech-'
/** The list of the parts, beside them. In a cache of parts it is written last: where it is, all of them are. */
export const LIST = 'parts.json'
/** The worker that hears. */
export const WORKER = 'worker.js'

export const hex = (hash: ArrayBuffer) => Array.from(new Uint8Array(hash), (byte) => byte.toString(16).padStart(2, '0')).join('')

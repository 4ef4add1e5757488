// WHAT is kept: the one bundle of the bay app with its page, fonts and icons. Never an answer of the server.
// The speech parts are stored by the page, on request; here they are only looked up.

declare const __FILES__: Record<string, string>
declare const __BUILD__: string

const PREFIX = 'witnessmark-bay-'

/** The cache that belongs to this build, named after the hash of its files. */
export const CACHE = PREFIX + __BUILD__

/** Every file of this build, relative to the worker's scope, with its SHA-256. */
export const FILES = __FILES__

/** The page that answers every navigation inside the scope: the scope's own address. */
export const PAGE = ''

/** True for a cache made by another build of this app, and only for those. */
export const isOurs = (name: string) => name.startsWith(PREFIX)

/** Caches of speech parts, and the list that is put into one last: where it is, the parts are whole. See speech/names.ts. */
export const SPEECH = 'witnessmark-speech-'
export const SPEECH_FOLDER = 'speech/'
export const SPEECH_LIST = 'speech/parts.json'

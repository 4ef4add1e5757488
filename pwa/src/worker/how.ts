// HOW a request is answered: from the stored files alone, or not touched at all.
import { CACHE, FILES, PAGE, SPEECH, SPEECH_FOLDER, SPEECH_LIST, isOurs } from './what.ts'

/**
 * Fetches every file of this build past the browser's own cache and checks its hash: a sign-in page of some other network
 * is never kept as our app. One failure fails the whole, so a build is never kept by halves.
 */
export async function keepAll(scope: string): Promise<void> {
  const cache = await caches.open(CACHE)
  for (const [file, sha256] of Object.entries(FILES)) {
    const url = new URL(file, scope).href
    const got = await fetch(url, { cache: 'reload', redirect: 'error' })
    if (!got.ok) throw new Error(`${url} answered ${got.status}`)
    const hash = await crypto.subtle.digest('SHA-256', await got.clone().arrayBuffer())
    const hex = Array.from(new Uint8Array(hash), (byte) => byte.toString(16).padStart(2, '0')).join('')
    if (hex !== sha256) throw new Error(`${url} is not the file of this build`)
    await cache.put(url, got)
  }
}

/** Drops the files of other builds of this app. The phone's records are not files and are never touched here. */
export async function dropOthers(): Promise<void> {
  for (const name of await caches.keys()) if (isOurs(name) && name !== CACHE) await caches.delete(name)
}

/**
 * The kept file for a request, or null when the worker has no business with it: anything but GET (uploads keep their
 * progress), the server's answers under /api/, other origins, pages outside the scope.
 */
export function fileFor(request: Request, scope: string): string | null {
  const url = new URL(request.url)
  if (request.method !== 'GET' || url.origin !== new URL(scope).origin || url.pathname.startsWith('/api/')) return null
  if (!url.href.startsWith(scope)) return null
  if (request.mode === 'navigate') return PAGE
  const name = url.href.slice(scope.length).split(/[?#]/)[0] ?? ''
  return name in FILES ? name : null
}

/** The stored file; from the network only if the browser has deleted it. */
export async function answer(file: string, scope: string): Promise<Response> {
  const url = new URL(file, scope).href
  const kept = await (await caches.open(CACHE)).match(url)
  return kept ?? fetch(url, { cache: 'no-store' })
}

/** True for a speech part requested by its plain name. The page fetches a part afresh with its hash behind a question mark: not ours. */
export function isPart(request: Request, scope: string): boolean {
  return request.method === 'GET' && request.url.startsWith(new URL(SPEECH_FOLDER, scope).href) && !request.url.includes('?')
}

/** The kept part, out of a whole set of parts only; from the network where there is none. */
export async function answerPart(request: Request, scope: string): Promise<Response> {
  for (const name of await caches.keys()) {
    if (!name.startsWith(SPEECH)) continue
    const cache = await caches.open(name)
    const kept = (await cache.match(new URL(SPEECH_LIST, scope).href)) && (await cache.match(request.url))
    if (kept) return kept
  }
  return fetch(request)
}

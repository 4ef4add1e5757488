// The files of the speech parts, out of what this phone keeps and from nowhere else. Used inside the worker alone.
import type { Part, PartList } from './shapes.ts'
import { CACHES, LIST, hex } from './names.ts'
import { say } from './say.ts'

const folder = new URL('./', self.location.href)

let opened: Promise<{ cache: Cache; files: Map<string, Part>; list: PartList }> | undefined

async function open() {
  for (const name of await caches.keys()) {
    if (!name.startsWith(CACHES)) continue
    const cache = await caches.open(name)
    const listed = await cache.match(new URL(LIST, folder).href)
    if (!listed) continue
    const list = (await listed.json()) as PartList
    return { cache, list, files: new Map(list.files.map((file) => [file.name, file])) }
  }
  throw new Error(say('speech.no_parts'))
}

const whole = () => (opened ??= open())

/** The list that the kept files belong to. */
export const keptList = async () => (await whole()).list

/**
 * Answers a program's `fetch` from the kept files: 404 for a name that is no part. Rejects for a part that is gone or is
 * no longer, byte for byte, what was fetched.
 */
export async function kept(url: string | URL): Promise<Response> {
  const at = new URL(url, folder)
  const { cache, files } = await whole()
  const part = files.get(at.href.slice(folder.href.length))
  if (!part) return new Response(null, { status: 404 })
  const file = await cache.match(at.href)
  if (!file) throw new Error(say('speech.part_gone', { file: part.name }))
  const bytes = await file.arrayBuffer()
  if (hex(await crypto.subtle.digest('SHA-256', bytes)) !== part.sha256) {
    throw new Error(say('speech.part_damaged', { file: part.name }))
  }
  return new Response(bytes, { headers: { 'Content-Type': part.type } })
}

// The last way out: what waits or was refused, in one file, made on the phone without any network.
import { sha256Hex } from '../trade/ground/canonical.ts'
import { withDb } from './db.ts'
import { phone } from './identity.ts'
import { readMedia } from './media.ts'
import type { EntryRow } from './types.ts'
import { zip, type ZipPart } from './zip.ts'
import { say } from './say.ts'

// What each file of the export is, as about.txt explains it.
const about = () => {
  const rows = [
    ['records/*.json', say('export.records')],
    ['records/*.sig', say('export.signatures')],
    ['media/*', say('export.media')],
    ['phone.json', say('export.phone')],
    ['why.json', say('export.why')],
    ['sha256sums.txt', say('export.sums')],
  ]
  const lines = rows.map(([name = '', words]) => `${name.padEnd(18)}${words}`)
  return `${say('export.intro')}\n\n${lines.join('\n')}\n`
}

/** A zip of every unsent record ('unsent') or of those on the shelf ('attention'), with signatures and media. */
export async function exportFile(which: 'unsent' | 'attention'): Promise<Blob> {
  const encode = (text: string) => new TextEncoder().encode(text)
  const store = which === 'unsent' ? 'outbox' : 'shelf'
  const rows = await withDb((db) => db.getAll(store))
  const shelf = await withDb((db) => db.getAll('shelf'))
  const ids = new Set(rows.filter((row) => row.sort === 'entry').map((row) => row.id))
  const hashes = new Set(rows.filter((row) => row.sort === 'media').map((row) => row.id))
  for (const sha of hashes) {
    const facts = await withDb((db) => db.get('originals', sha))
    if (facts) ids.add(facts.entry)
  }
  const parts: ZipPart[] = [{ name: 'about.txt', bytes: encode(about()) }]
  const entries = await withDb((db) => Promise.all([...ids].map((id) => db.get('entries', id))))
  for (const row of entries.filter((row): row is EntryRow => row !== undefined).sort((a, b) => a.sequence - b.sequence)) {
    const stem = `records/${String(row.sequence).padStart(6, '0')}-${row.id}`
    parts.push({ name: `${stem}.json`, bytes: new Uint8Array(row.bytes) }, { name: `${stem}.sig`, bytes: encode(row.signature) })
    for (const item of row.entry.media) hashes.add(item.sha256)
  }
  for (const sha of hashes) {
    const bytes = await withDb((db) => readMedia(db, sha))
    if (bytes) parts.push({ name: `media/${sha}`, bytes: new Uint8Array(bytes) })
  }
  const { device, workshop, server } = phone.value ?? {}
  const key = (await withDb((db) => db.get('keys', 'device')))?.publicKey
  parts.push({ name: 'phone.json', bytes: encode(JSON.stringify({ device, workshop, server, public_key: key }, null, 2)) })
  if (shelf.length) parts.push({ name: 'why.json', bytes: encode(JSON.stringify(shelf, null, 2)) })
  const sums = await Promise.all(parts.map(async ({ name, bytes }) => `${await sha256Hex(bytes as BufferSource)}  ${name}\n`))
  parts.push({ name: 'sha256sums.txt', bytes: encode(sums.join('')) })
  return zip(parts)
}

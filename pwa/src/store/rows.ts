// From a sealed entry to the row under which it is kept.
import { alone } from './hash.ts'
import type { EntryRow, Sealed } from './types.ts'
import { WAITING_AT } from './types.ts'

/** The row under which an entry is kept. */
export function rowOf(sealed: Sealed, mine: boolean, position: number | null = null, received: string | null = null): EntryRow {
  const { entry, hash, signature } = sealed
  return {
    id: entry.id,
    hash,
    bytes: alone(sealed.bytes),
    signature,
    entry,
    kind: entry.kind,
    job: entry.job ?? '',
    device: entry.device,
    sequence: entry.sequence,
    about: typeof entry.body.entry === 'string' ? entry.body.entry : '',
    words: wordsOf(entry),
    mine: mine ? 1 : 0,
    position,
    received,
    at: position ?? WAITING_AT + entry.sequence,
  }
}

/** What is worth searching in a body: of a transcript the text that stands, not each word with its time. */
function searchable({ kind, body }: Sealed['entry']): unknown {
  if (kind === 'engine_type_described') return ''
  return kind === 'transcript_made' ? body.text : body
}

function wordsOf(entry: Sealed['entry']): string {
  const texts: string[] = [entry.kind.replaceAll('_', ' ')]
  const gather = (value: unknown): void => {
    if (typeof value === 'string') texts.push(value)
    else if (Array.isArray(value)) value.forEach(gather)
    else if (value && typeof value === 'object') Object.values(value).forEach(gather)
  }
  gather(searchable(entry))
  if (entry.location) texts.push(entry.location.place.replace(/[/_]/g, ' '), entry.location.point)
  for (const item of entry.media) texts.push(item.name)
  return texts.join(' \n').toLowerCase()
}

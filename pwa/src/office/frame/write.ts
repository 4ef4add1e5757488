import { post, ApiError } from './api.ts'
import { uuid7 } from '../../trade/ground/uuid7.ts'
import type { Item, NewEntry } from './shapes.ts'

// Entries whose answer was lost: sent again with the same content, each has the same id and is the same record.
const unanswered = new Map<string, string>()

/** Signs a record at the desk. Throws ApiError; after a lost answer the same call does not make a second record. */
export async function writeAtDesk(entry: NewEntry): Promise<Item> {
  const words = JSON.stringify(entry)
  const id = unanswered.get(words) ?? uuid7()
  unanswered.set(words, id)
  try {
    const made = await post<Item>('/api/desk/entries', { ...entry, id })
    unanswered.delete(words)
    return made
  } catch (reason) {
    const refused = reason instanceof ApiError && reason.status >= 400 && reason.status < 500
    if (refused) unanswered.delete(words)
    throw reason
  }
}

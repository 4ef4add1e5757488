// What is being written, stored on every change, so that a killed page loses no word.
import { signal } from '@preact/signals'
import { withDb } from './db.ts'

/** Open drafts: an update of the app waits while there is one. */
export const openDrafts = signal(0)

export async function putDraft(key: string, value: unknown): Promise<void> {
  await withDb((db) => db.put('drafts', { key, value, changed: new Date().toISOString() }))
  await countDrafts()
}

export async function getDraft<V>(key: string): Promise<V | null> {
  const row = await withDb((db) => db.get('drafts', key))
  return row ? (row.value as V) : null
}

export async function dropDraft(key: string): Promise<void> {
  await withDb((db) => db.delete('drafts', key))
  await countDrafts()
}

export async function countDrafts(): Promise<void> {
  openDrafts.value = await withDb((db) => db.count('drafts'))
}

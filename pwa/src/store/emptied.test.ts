import { afterEach, expect, test, vi } from 'vitest'
import { IDBFactory } from 'fake-indexeddb'
import { joinedPhone, WHERE } from '../../support/phone.ts'
import { note } from '../capture/index.ts'
import { closeDb } from './db.ts'
import { phone, announceChange, withDb } from './index.ts'
import { emptiedWords, leaveMark } from './mark.ts'

afterEach(() => vi.unstubAllGlobals())

test('when the browser has emptied the store under the open app, nothing is signed with a new key and nothing is called saved', async () => {
  await joinedPhone()
  await note(WHERE, 'before')
  await closeDb()
  globalThis.indexedDB = new IDBFactory()
  await expect(note(WHERE, 'after')).rejects.toThrow('has cleared this app’s storage')
  expect(await withDb((db) => db.count('keys'))).toBe(0)
  expect(await withDb((db) => db.count('entries'))).toBe(0)
})

test('a phone that finds its store emptied says what it was and what is gone', async () => {
  const kept = new Map<string, string>()
  vi.stubGlobal('localStorage', { getItem: (key: string) => kept.get(key) ?? null, setItem: (key: string, value: string) => kept.set(key, value) })
  expect(emptiedWords()).toBe('')
  await joinedPhone()
  await note(WHERE, 'one')
  await note(WHERE, 'two')
  await announceChange()
  leaveMark()
  expect(emptiedWords()).toBe('')
  phone.value = null
  expect(emptiedWords()).toContain('Lost before they were sent: 2 records.')
})

import { expect, test } from 'vitest'
import { IDBFactory } from 'fake-indexeddb'
import { joinedPhone, WHERE } from '../../support/phone.ts'
import { note } from '../capture/index.ts'
import { closeDb } from './db.ts'
import { withDb } from './index.ts'

test('when the browser has emptied the store under the open app, nothing is signed with a new key and nothing is called saved', async () => {
  await joinedPhone()
  await note(WHERE, 'before')
  await closeDb()
  globalThis.indexedDB = new IDBFactory()
  await expect(note(WHERE, 'after')).rejects.toThrow('emptied')
  expect(await withDb((db) => db.count('keys'))).toBe(0)
  expect(await withDb((db) => db.count('entries'))).toBe(0)
})

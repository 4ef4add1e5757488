import { beforeEach, expect, test, vi } from 'vitest'
import { emptyStore, joinedPhone, WHERE } from '../../support/phone.ts'
import { note } from '../capture/index.ts'
import { closeDb, inTheWay, NAME, VERSION, withDb } from './db.ts'
import { health, selftest } from './selftest.ts'

beforeEach(emptyStore)

test('a connection that was lost is opened anew and the work done once more', async () => {
  await joinedPhone()
  await note(WHERE, 'first')
  // What iOS and a cleared origin leave behind: a handle whose every transaction throws.
  await withDb(async (db) => db.close())
  expect((await note(WHERE, 'second')).sequence).toBe(2)
})

test('the work is not tried a third time', async () => {
  const work = vi.fn(async () => {
    throw new DOMException('Connection to Indexed Database server lost.', 'UnknownError')
  })
  await expect(withDb(work)).rejects.toThrow('lost')
  expect(work).toHaveBeenCalledTimes(2)
})

test('a fault that is not the connection’s is not repeated', async () => {
  const work = vi.fn(async () => {
    throw new Error('a fault of the work')
  })
  await expect(withDb(work)).rejects.toThrow('a fault of the work')
  expect(work).toHaveBeenCalledTimes(1)
})

test('a newer version in another tab gets the store, and this tab says that it has to be reloaded', async () => {
  await withDb((db) => db.count('entries'))
  const opened = await new Promise<IDBDatabase>((resolve, reject) => {
    const request = indexedDB.open(NAME, VERSION + 1)
    request.onsuccess = () => resolve(request.result)
    request.onerror = () => reject(request.error)
  })
  expect(inTheWay.value).toContain('reload')
  opened.close()
  await expect(withDb((db) => db.count('entries'))).rejects.toThrow('newer version')
})

test('at start the store is written, read back and hashed', async () => {
  expect(await selftest()).toEqual({ state: 'well', reason: '' })
  expect(await withDb((db) => db.count('media'))).toBe(0)
})

test('a browser that keeps nothing blocks recording, with the reason', async () => {
  await closeDb()
  const open = vi.spyOn(IDBFactory.prototype, 'open').mockImplementation(() => {
    throw new DOMException('A mutation operation was attempted on a database that did not allow mutations.', 'InvalidStateError')
  })
  await selftest()
  open.mockRestore()
  expect(health.value.state).toBe('blocked')
  expect(health.value.reason).toContain('private browsing')
  await joinedPhone()
  health.value = { state: 'blocked', reason: 'The store does not work.' }
  await expect(note(WHERE, 'lost?')).rejects.toThrow('The store does not work.')
})

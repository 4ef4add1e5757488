// A phone for unit tests: an empty store, joined to a small server, with Tomas signed in.
import 'fake-indexeddb/auto'
import { IDBFactory } from 'fake-indexeddb'
import { signedIn } from '../src/capture/who.ts'
import { loadConflict } from '../src/store/conflict.ts'
import { closeDb } from '../src/store/db.ts'
import { health, phone, refreshIdentity, announceChange, type Person } from '../src/store/index.ts'
import { join } from '../src/sync/join.ts'
import { alarm, why } from '../src/sync/status.ts'
import { SmallServer } from './server.ts'

/** Throws the phone's whole store away, as clearing the browser would. */
export async function emptyStore(): Promise<void> {
  await closeDb()
  globalThis.indexedDB = new IDBFactory()
  phone.value = null
  signedIn.value = null
  alarm.value = ''
  why.value = ''
  health.value = { state: 'well', reason: '' }
  await refreshIdentity()
  await loadConflict()
  await announceChange()
}

export async function joinedPhone(): Promise<SmallServer> {
  await emptyStore()
  const server = await SmallServer.founded()
  globalThis.fetch = server.fetch as typeof fetch
  await join('K7M4-QX2P', 'Bench phone')
  signedIn.value = server.people[0] as Person
  return server
}

export const WHERE = { job: '0197bbbb-0000-7000-8000-000000000001', place: 'bore/3', point: 'top, thrust' }

/** A file as a camera hands it over: a JPEG header of 4000 by 3000, then `size` bytes that no two pictures share. */
export function aPicture(name = 'IMG_1.jpg', size = 5000): File {
  const bytes = new Uint8Array(size)
  for (let at = 0; at < size; at += 65536) crypto.getRandomValues(bytes.subarray(at, Math.min(size, at + 65536)))
  bytes.set([0xff, 0xd8, 0xff, 0xc0, 0x00, 0x11, 0x08, 0x0b, 0xb8, 0x0f, 0xa0])
  return new File([bytes], name, { type: 'image/jpeg', lastModified: Date.UTC(2026, 4, 14, 9, 38, 7) })
}

// Who this phone is: its workshop, its number, its key that cannot leave it, and the people who may sign in on it.
import { signal } from '@preact/signals'
import { getSetting, putSetting, StoreFault, withDb } from './db.ts'
import { base64 } from './hash.ts'
import type { MeasuredClock, Person, Phone } from './types.ts'
import { say } from './say.ts'

export const phone = signal<Phone | null>(null)
export const people = signal<Person[]>([])

export interface DeviceKeys {
  privateKey: CryptoKey
  publicKey: string
}

/** The phone's signing key, made when it first joins. Its private half can be used here and read by nobody. */
export async function makeDeviceKeys(): Promise<DeviceKeys> {
  const kept = await withDb((db) => db.get('keys', 'device'))
  if (kept) return kept
  const pair = await crypto.subtle.generateKey({ name: 'ECDSA', namedCurve: 'P-256' }, false, ['sign', 'verify'])
  const publicKey = base64(new Uint8Array(await crypto.subtle.exportKey('spki', pair.publicKey)))
  return withDb(async (db) => {
    const tx = db.transaction('keys', 'readwrite', { durability: 'strict' })
    // Another tab may have been faster: the first key stays.
    const first = (await tx.store.get('device')) ?? { name: 'device', privateKey: pair.privateKey, publicKey }
    await Promise.all([tx.store.put(first), tx.done])
    return first
  })
}

/** ECDSA over P-256 with SHA-256, raw r and s, standard base64. */
export async function signBytes(bytes: Uint8Array): Promise<string> {
  const kept = await withDb((db) => db.get('keys', 'device'))
  // Never a new key in its place: nothing signed with it would be believed.
  if (!kept) throw new StoreFault(say('store.key_lost'))
  const raw = await crypto.subtle.sign({ name: 'ECDSA', hash: 'SHA-256' }, kept.privateKey, bytes as BufferSource)
  return base64(new Uint8Array(raw))
}

export async function keepJoin(joined: Phone, members: Person[]): Promise<void> {
  await withDb(async (db) => {
    const tx = db.transaction(['settings', 'people'], 'readwrite', { durability: 'strict' })
    const before = (await tx.objectStore('settings').get('phone'))?.value as Phone | undefined
    // A new number in the workshop begins a new chain; records of the old one stay as they are.
    if (before && before.device.id !== joined.device.id) await tx.objectStore('settings').delete('chain')
    await tx.objectStore('settings').put({ name: 'phone', value: joined })
    await tx.objectStore('people').clear()
    for (const person of members) await tx.objectStore('people').put(person)
    await tx.done
  })
  await refreshIdentity()
}

/** Stores the people as the server has them now: a changed PIN or a person who left counts from here on. */
export async function keepPeople(members: Person[]): Promise<void> {
  await withDb(async (db) => {
    const tx = db.transaction('people', 'readwrite')
    await tx.store.clear()
    for (const person of members) await tx.store.put(person)
    await tx.done
  })
  people.value = members
}

export async function keepPhone(now: Phone): Promise<void> {
  await putSetting('phone', now)
  phone.value = now
}

export async function refreshIdentity(): Promise<void> {
  phone.value = await getSetting<Phone>('phone')
  people.value = (await withDb((db) => db.getAll('people'))).sort((a, b) => a.name.localeCompare(b.name))
}

export const measuredClock = () => getSetting<MeasuredClock>('clock')
export const keepClock = (clock: MeasuredClock) => putSetting('clock', clock)

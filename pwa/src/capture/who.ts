// Who holds the phone: name and PIN, checked on the phone itself. Signing in or out touches no record.
import { signal } from '@preact/signals'
import { dropSetting, getSetting, people, putSetting, unbase64, type Person } from '../store/index.ts'
import { PIN_DIGITS } from '../trade/ground/pins.ts'
import { say } from '../store/say.ts'

export const signedIn = signal<Person | null>(null)

/** The PIN does not fit, or too many did not: the message says what to do. */
export class WrongPin extends Error {}

interface Tries {
  wrong: number
  wait_until: number
}

const FREE_TRIES = 5
const FIRST_WAIT_S = 30

/** Signs a person in on this phone. Works without a network. */
export async function signIn(personId: string, pin: string): Promise<Person> {
  const person = await proven(personId, pin)
  await putSetting('signed_in', person.id)
  signedIn.value = person
  return person
}

/** The person, when the PIN is theirs; whoever is signed in stays so. Rejects with WrongPin. */
export async function proven(personId: string, pin: string): Promise<Person> {
  const person = people.value.find(({ id, active }) => id === personId && active)
  if (!person) throw new WrongPin(say('pin.left'))
  if (!person.pin) throw new WrongPin(say('pin.none', { name: person.name }))
  // From before managers had longer ones: what signs for a manager must not be found by trying ten thousand.
  const { least } = PIN_DIGITS[person.role === 'manager' ? 'manager' : 'technician']
  if (person.role === 'manager' && pin.length < least) throw new WrongPin(say('pin.too_short', { least }))
  const tries = (await getSetting<Tries>('pin_tries')) ?? { wrong: 0, wait_until: 0 }
  const left = Math.ceil((tries.wait_until - Date.now()) / 1000)
  // A clock that was set back must not lock the phone for a day.
  if (left > 0 && left <= 3600) throw new WrongPin(say('pin.too_many', { count: left }))
  if (!(await fits(pin, person.pin))) {
    const wrong = tries.wrong + 1
    const wait = wrong < FREE_TRIES ? 0 : Math.min(3600, FIRST_WAIT_S * 2 ** (wrong - FREE_TRIES))
    await putSetting('pin_tries', { wrong, wait_until: Date.now() + wait * 1000 })
    throw new WrongPin(wait ? say('pin.wrong_wait', { count: wait }) : say('pin.wrong'))
  }
  await dropSetting('pin_tries')
  return person
}

export async function signOut(): Promise<void> {
  await dropSetting('signed_in')
  signedIn.value = null
}

/** After a restart: whoever was signed in still is, unless that person has left the workshop. */
export async function resumeSignedIn(): Promise<void> {
  const id = await getSetting<string>('signed_in')
  signedIn.value = people.value.find((person) => person.id === id && person.active) ?? null
}

/** PBKDF2 (RFC 8018) with HMAC-SHA-256, 32 bytes, as the server made it. */
async function fits(pin: string, stored: NonNullable<Person['pin']>): Promise<boolean> {
  const key = await crypto.subtle.importKey('raw', new TextEncoder().encode(pin), 'PBKDF2', false, ['deriveBits'])
  const derivation = { name: 'PBKDF2', hash: 'SHA-256', salt: unbase64(stored.salt), iterations: stored.iterations }
  const derived = new Uint8Array(await crypto.subtle.deriveBits(derivation, key, 256))
  const expected = unbase64(stored.hash)
  let differs = derived.length ^ expected.length
  for (let i = 0; i < derived.length; i++) differs |= (derived[i] as number) ^ (expected[i] ?? 0)
  return differs === 0
}

// The server's state at the start of every run: clock, people, restore mark, and whether it lost something.
import {
  confirmedMedia,
  conflictWords,
  getSetting,
  keepClock,
  keepPeople,
  keepPhone,
  offerAgain,
  ownChainAt,
  phone,
  putSetting,
  type Phone,
} from '../store/index.ts'
import { requestJson, Refused } from './api.ts'
import { checkHead } from './heads.ts'
import { clearAlarm, noteReached, raiseAlarm } from './status.ts'
import type { Here, State } from './wire.ts'
import { say } from '../store/say.ts'

const HAVE_AT_ONCE = 500
/** Setting: originals whose bytes this phone gave up and the restored server does not have. */
const LOST = 'lost_originals'

/** Fetches the state, applies it, and offers again what a restored server has lost. */
export async function takeState(boot: string): Promise<State> {
  const began = performance.now()
  const wall = Date.now()
  const state = await requestJson<State>('/api/sync/state', { anyEpoch: true })
  const round_trip_ms = Math.round(performance.now() - began)
  await takeClock(state.time, wall, round_trip_ms, boot)
  if (state.device.revoked)
    throw new Refused(403, 'phone_shut_out', say('sync.blocked'), null)
  const before = phone.peek() as Phone
  await keepPeople(state.people)
  await putSetting('durable_size', state.durable_size)
  const restored = state.epoch !== before.epoch
  const words = await offerWhatIsMissing(state, restored)
  const { workshop, epoch } = state
  const { id, name, letter } = state.device
  await keepPhone({ ...before, workshop, device: { id, name, letter }, epoch })
  await checkHead(state.head, phone.peek() as Phone)
  const standing = [words, conflictWords()].filter(Boolean).join(' ')
  await (standing ? raiseAlarm(standing) : clearAlarm())
  return state
}

async function takeClock(time: string, wall: number, round_trip_ms: number, boot: string): Promise<void> {
  const server = Date.parse(time)
  if (!Number.isFinite(server)) return
  // The server's moment lies somewhere within the round trip: its middle is the best guess (RFC 5905 uses the same).
  const offset_ms = Math.round(server - (wall + round_trip_ms / 2))
  await keepClock({ offset_ms, round_trip_ms, boot, monotonic_ms: Math.round(performance.now()), wall_ms: Date.now() })
  await noteReached(offset_ms)
}

/** Puts back into the outbox what the server no longer has. Returns loud words when something cannot be put right from here. */
async function offerWhatIsMissing(state: State, restored: boolean): Promise<string> {
  const { id, last_sequence, last_hash } = state.device
  const { receipted, hash } = await ownChainAt(id, last_sequence)
  if (last_sequence > 0 && last_hash && hash && hash !== last_hash)
    return say('sync.chain_differs', { number: String(last_sequence) })
  if (last_sequence > 0 && !hash)
    return say('sync.emptied', { count: last_sequence })
  if (restored || receipted > last_sequence) {
    const { freed } = await offerAgain(id, last_sequence, await hereOf(await confirmedMedia()))
    if (restored || freed.length) await putSetting(LOST, freed)
  }
  return lostWords()
}

/** Said at every run, not once: who has to look for these pictures may not be looking just then. */
async function lostWords(): Promise<string> {
  const before = (await getSetting<string[]>(LOST)) ?? []
  if (!before.length) return ''
  const here = await hereOf(before)
  const lost = before.filter((sha256) => !here.has(sha256))
  if (lost.length < before.length) await putSetting(LOST, lost)
  return lost.length ? say('sync.backup_lacks', { count: lost.length }) : ''
}

async function hereOf(wanted: string[]): Promise<Set<string>> {
  const here = new Set<string>()
  for (let at = 0; at < wanted.length; at += HAVE_AT_ONCE) {
    const json = { sha256: wanted.slice(at, at + HAVE_AT_ONCE) }
    const held = await requestJson<Here>('/api/media/have', { method: 'POST', json, anyEpoch: true })
    for (const sha256 of held.here ?? []) here.add(sha256)
  }
  return here
}

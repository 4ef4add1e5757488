// How things stand with the server, in words. What waits is counted by the store; nothing but a receipt lowers it.
import { computed, signal } from '@preact/signals'
import { dropSetting, getSetting, measuredClock, putSetting, waiting, type SendingStatus } from '../store/index.ts'

export const reached = signal<string | null>(null)
export const why = signal('')
export const shutDoor = signal(false)
export const running = signal(false)
export const progress = signal('')
export const alarm = signal('')
const offsetMs = signal<number | null>(null)

const CLOCK_WORTH_SAYING_MS = 60_000

export const status = computed<SendingStatus>(() => ({
  words: `${onThisPhone()}, ${lastReached(reached.value)}`,
  why: why.value || onlyInATab(),
  running: running.value,
  shutDoor: shutDoor.value,
  reached: reached.value,
  progress: progress.value,
  alarm: alarm.value,
  clock: clockWords(offsetMs.value),
}))

function onThisPhone(): string {
  const { records, pictures, sounds, attention } = waiting.value
  const files = pictures + sounds
  if (attention && !records && !files) return `${attention} to look at`
  if (!records && !files) return 'All sent'
  if (!files) return `${records} on this phone`
  const kinds = [pictures && `${pictures} ${pictures === 1 ? 'picture' : 'pictures'}`, sounds && `${sounds} ${sounds === 1 ? 'sound' : 'sounds'}`]
  const told = kinds.filter(Boolean).join(' and ')
  return records ? `${records} on this phone, with ${told}` : `${told} on this phone`
}

/** 'server last reached 10:42', with the day when it was not today. */
export function lastReached(at: string | null, now: Date = new Date()): string {
  if (!at) return 'server not reached yet'
  const when = new Date(at)
  const time = when.toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' })
  if (when.toDateString() === now.toDateString()) return `server last reached ${time}`
  return `server last reached ${when.toLocaleDateString('en-GB', { day: 'numeric', month: 'short' })} ${time}`
}

export function clockWords(offset: number | null): string {
  if (offset === null || Math.abs(offset) < CLOCK_WORTH_SAYING_MS) return ''
  const minutes = Math.round(Math.abs(offset) / 60_000)
  const far = minutes < 120 ? `${minutes} min` : `${Math.round(minutes / 60)} hours`
  return `This phone’s clock is ${far} ${offset < 0 ? 'fast' : 'slow'}. Times are kept as it says them, with the difference beside them.`
}

/** Safari throws a page's store away after seven days without a visit, unless the page stands on the home screen. */
function onlyInATab(): string {
  const { standalone } = (typeof navigator === 'undefined' ? {} : navigator) as { standalone?: boolean }
  const { records, pictures, sounds } = waiting.value
  if (standalone !== false || records + pictures + sounds === 0) return ''
  return 'This page is open in a tab, and this phone clears tabs after seven days without a visit. Send what waits, and put the app on the home screen.'
}

/** An answer of ours was had. */
export async function noteReached(offset: number | null): Promise<void> {
  reached.value = new Date().toISOString()
  if (offset !== null) offsetMs.value = offset
  await putSetting('reached', reached.value)
}

/** Raises loud words that stay over a restart, until the server proves itself again. */
export async function raiseAlarm(words: string): Promise<void> {
  alarm.value = words
  await putSetting('alarm', words)
}

export async function clearAlarm(): Promise<void> {
  if (!alarm.value) return
  alarm.value = ''
  await dropSetting('alarm')
}

export async function resumeStatus(): Promise<void> {
  reached.value = await getSetting<string>('reached')
  alarm.value = (await getSetting<string>('alarm')) ?? ''
  offsetMs.value = (await measuredClock())?.offset_ms ?? null
}

// The state of sending, in words. What waits is counted by the store; nothing but a receipt lowers it.
import { computed, signal } from '@preact/signals'
import { tag, listed } from '../trade/ground/sentences.ts'
import { dropSetting, getSetting, measuredClock, putSetting, waiting, type SendingStatus } from '../store/index.ts'
import { say } from '../store/say.ts'

export const reached = signal<string | null>(null)
export const why = signal('')
export const shutDoor = signal(false)
export const running = signal(false)
export const progress = signal('')
export const alarm = signal('')
const offsetMs = signal<number | null>(null)

const CLOCK_WORTH_SAYING_MS = 60_000

export const status = computed<SendingStatus>(() => ({
  words: say('status.line', { waiting: onThisPhone(), reached: lastReached(reached.value) }),
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
  if (attention && !records && !files) return say('status.attention', { count: attention })
  if (!records && !files) return say('status.all_sent')
  if (!files) return say('status.records', { count: records })
  const what = listed([
    ...(pictures ? [say('count.pictures', { count: pictures })] : []),
    ...(sounds ? [say('count.recordings', { count: sounds })] : []),
  ])
  return records ? say('status.records_with', { count: records, what }) : say('status.files', { what })
}

/** 'server last reached 10:42', with the day when it was not today. */
export function lastReached(at: string | null, now: Date = new Date()): string {
  if (!at) return say('status.never_reached')
  const when = new Date(at)
  const time = when.toLocaleTimeString(tag, { hour: '2-digit', minute: '2-digit' })
  if (when.toDateString() === now.toDateString()) return say('status.reached', { time })
  return say('status.reached_on', { day: when.toLocaleDateString(tag, { day: 'numeric', month: 'short' }), time })
}

export function clockWords(offset: number | null): string {
  if (offset === null || Math.abs(offset) < CLOCK_WORTH_SAYING_MS) return ''
  const minutes = Math.round(Math.abs(offset) / 60_000)
  const by = minutes < 120 ? say('status.minutes', { count: minutes }) : say('status.hours', { count: Math.round(minutes / 60) })
  if (offset < 0) return say('status.fast', { by })
  return say('status.slow', { by })
}

/** Safari deletes a page's store after seven days without a visit, unless the page is on the home screen. */
function onlyInATab(): string {
  const { standalone } = (typeof navigator === 'undefined' ? {} : navigator) as { standalone?: boolean }
  const { records, pictures, sounds } = waiting.value
  if (standalone !== false || records + pictures + sounds === 0) return ''
  return say('status.only_in_a_tab')
}

/** Our server has answered. */
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

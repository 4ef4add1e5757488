// How the office writes times, spans, counts and fingerprints. Pure: no clock is read except where `now` is passed in.

import { countText, listed as listedItems } from '../../trade/ground/sentences.ts'
import { say, type SentenceKey } from './say.ts'
import type { Named } from './shapes.ts'

const STAMP = /^(\d{4})-(\d{2})-(\d{2})T(\d{2}):(\d{2}):(\d{2})(?:\.\d+)?(Z|[+-]\d{2}:\d{2})$/

export interface Moment {
  year: number
  month: number
  date: number
  clock: string
  offset: string
}

/** The parts of an RFC 3339 time as it was written: nothing is shifted to the reader's own zone. */
export function moment(stamp: string): Moment | null {
  const parts = STAMP.exec(stamp)
  if (!parts) return null
  const [, year, month, date, hour, minute, second, zone] = parts as unknown as string[]
  return {
    year: Number(year),
    month: Number(month),
    date: Number(date),
    clock: `${hour}:${minute}:${second}`,
    offset: zone === 'Z' ? '+00:00' : zone!,
  }
}

/** The same instant written with another offset ("+01:00"), so that two columns can be compared by eye. */
export function atOffset(stamp: string, offset: string): string {
  const instant = Date.parse(stamp)
  const parts = /^([+-])(\d{2}):(\d{2})$/.exec(offset)
  if (Number.isNaN(instant) || !parts) return stamp
  const minutes = (parts[1] === '-' ? -1 : 1) * (Number(parts[2]) * 60 + Number(parts[3]))
  return new Date(instant + minutes * 60_000).toISOString().replace('Z', offset)
}

/** "10:38" */
export function shortClock(stamp: string): string {
  return moment(stamp)?.clock.slice(0, 5) ?? stamp
}

/** "May", of the numbers 1 to 12. */
const monthName = (month: number) => say('common.months').split(' ')[month - 1]!

/** "2 Sep 2026" */
export function dateText(year: number, month: number, date: number): string {
  return say('common.date', { day: String(date), month: monthName(month), year: String(year) })
}

/** "14 May", with the year when it is not the year of `now`. */
function shortDate({ year, month, date }: Moment, now: Date): string {
  if (year !== now.getFullYear()) return dateText(year, month, date)
  return say('common.date_this_year', { day: String(date), month: monthName(month) })
}

/** "Thu 14 May", with the year when it is not the year of `now`. */
export function day(stamp: string, now: Date = new Date()): string {
  const m = moment(stamp)
  if (!m) return stamp
  const weekday = say('common.weekdays').split(' ')[new Date(Date.UTC(m.year, m.month - 1, m.date)).getUTCDay()]!
  return say('common.weekday_date', { weekday, date: shortDate(m, now) })
}

/** "14 May, 10:38" for lists; a server time (Z) is first written with the reader's own offset. */
export function dayAndClock(stamp: string, now: Date = new Date()): string {
  const local = stamp.endsWith('Z') ? atOffset(stamp, readersOffset(new Date(stamp))) : stamp
  const m = moment(local)
  return m ? say('common.date_and_time', { date: shortDate(m, now), time: shortClock(local) }) : local
}

/** The reader's own offset at that instant, "+01:00". */
export function readersOffset(at: Date): string {
  const minutes = -at.getTimezoneOffset()
  const size = Math.abs(minutes)
  const pad = (n: number) => String(n).padStart(2, '0')
  return `${minutes < 0 ? '-' : '+'}${pad(Math.floor(size / 60))}:${pad(size % 60)}`
}

/** A span of time in at most two units: "45 s", "7 min", "1 h 52 min", "3 days 4 h". */
export function span(ms: number): string {
  const seconds = Math.round(Math.abs(ms) / 1000)
  if (seconds < 60) return say('common.seconds', { count: seconds })
  const minutes = Math.round(seconds / 60)
  if (minutes < 60) return say('common.minutes', { count: minutes })
  const hours = Math.floor(minutes / 60)
  if (hours < 24) return minutes % 60 ? say('common.hours_minutes', { hours, minutes: minutes % 60 }) : say('common.hours', { count: hours })
  const days = Math.floor(hours / 24)
  return hours % 24 ? say('common.days_hours', { count: days, hours: hours % 24 }) : say('common.days', { count: days })
}

/** Only gaps of at least this long are written between two records. */
export const GAP_SHOWN_MS = 20 * 60_000

/** The words between two records by their phone times, or "" when there is nothing to point out. */
export function gap(before: string, after: string): string {
  const ms = Date.parse(after) - Date.parse(before)
  if (Number.isNaN(ms)) return ''
  if (ms < -60_000) return say('common.before_record_above', { time: span(ms) })
  return ms >= GAP_SHOWN_MS ? span(ms) : ''
}

/** What is known of a clock against the server's; `offset` is server minus device, in milliseconds. */
export function offsetWords(offset: number | null, clock = say('common.this_phones_clock')): string {
  if (offset === null) return say('common.clock_not_compared', { clock })
  if (Math.abs(offset) < 1000) return say('common.clock_agreed', { clock })
  const difference = Math.abs(offset) < 60_000 ? say('common.exact_seconds', { seconds: (Math.abs(offset) / 1000).toFixed(1) }) : span(offset)
  return offset > 0 ? say('common.clock_slow', { clock, difference }) : say('common.clock_fast', { clock, difference })
}

/** Up to here a phone's time is left as it is: no phone's clock is exact. */
export const SLIGHT_MS = 60_000

/** The time that a phone claims, set right by how far its clock was off (the server's minus its own, ms). */
export function setRightWords(claimed: string, offset: number): string {
  const corrected = new Date(Date.parse(claimed) + offset).toISOString()
  const there = atOffset(corrected, moment(claimed)?.offset ?? '+00:00')
  return say('record.set_right', { time: `${day(there)}, ${moment(there)?.clock}` })
}

/** A hash as a print that can be read aloud: "9c1f 04aa 7be2 … 51d0". */
export function print(hash: string): string {
  const groups = hash.match(/.{1,4}/g) ?? []
  return groups.length <= 4 ? groups.join(' ') : `${groups.slice(0, 3).join(' ')} … ${groups.at(-1)}`
}

/** The whole hash in groups of four. */
export function wholePrint(hash: string): string {
  return (hash.match(/.{1,4}/g) ?? []).join(' ')
}

/** A whole number as the language writes it: "5,208". */
export const figure = countText

/** "a, b and c" */
export const listed = (words: string[]): string => listedItems(words)

/** Bytes as a person writes them: "312 kB", "3.4 MB". */
export function bytes(n: number): string {
  if (n < 1000) return say('common.bytes', { count: n })
  if (n < 1_000_000) return say('common.kilobytes', { size: String(Math.round(n / 1000)) })
  if (n < 1_000_000_000) return say('common.megabytes', { size: (n / 1_000_000).toFixed(1) })
  return say('common.gigabytes', { size: (n / 1_000_000_000).toFixed(2) })
}

const VISITS: SentenceKey[] = [
  ...(['common.visit_1', 'common.visit_2', 'common.visit_3', 'common.visit_4', 'common.visit_5'] as const),
  ...(['common.visit_6', 'common.visit_7', 'common.visit_8', 'common.visit_9', 'common.visit_10'] as const),
]

/** "first visit", "third visit", "visit 12"; `earlier` is the number of visits before this one. */
export function visit(earlier: number): string {
  const named = VISITS[earlier]
  return named ? say(named) : say('common.visit_number', { number: earlier + 1 })
}

/** First letter large, the rest untouched. */
export function sentence(text: string): string {
  return text ? text[0]!.toUpperCase() + text.slice(1) : text
}

/** Minutes and seconds of a recording: "0:05", "12:40". */
export function playingTime(ms: number): string {
  const seconds = Math.round(ms / 1000)
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`
}

/** A person as an answer names them. */
export function nameOf(person: Named): string {
  return typeof person === 'string' ? person : person.name
}

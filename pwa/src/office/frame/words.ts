// How the office says times, spans, counts and prints. Pure: no clock is read except where `now` is passed in.

import type { Named } from './shapes.ts'
import type { Fault } from '../../trade/ground/errors.ts'

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec']
const DAYS = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat']
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
  const found = STAMP.exec(stamp)
  if (!found) return null
  const [, year, month, date, hour, minute, second, zone] = found as unknown as string[]
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
  const found = /^([+-])(\d{2}):(\d{2})$/.exec(offset)
  if (Number.isNaN(instant) || !found) return stamp
  const minutes = (found[1] === '-' ? -1 : 1) * (Number(found[2]) * 60 + Number(found[3]))
  return new Date(instant + minutes * 60_000).toISOString().replace('Z', offset)
}

/** "10:38" */
export function shortClock(stamp: string): string {
  return moment(stamp)?.clock.slice(0, 5) ?? stamp
}

/** "Thu 14 May", with the year when it is not the year of `now`. */
export function day(stamp: string, now: Date = new Date()): string {
  const m = moment(stamp)
  if (!m) return stamp
  const weekday = DAYS[new Date(Date.UTC(m.year, m.month - 1, m.date)).getUTCDay()]
  const year = m.year === now.getFullYear() ? '' : ` ${m.year}`
  return `${weekday} ${m.date} ${MONTHS[m.month - 1]}${year}`
}

/** "14 May 10:38" for lists; a server time (Z) is first written with the reader's own offset. */
export function dayAndClock(stamp: string, now: Date = new Date()): string {
  const local = stamp.endsWith('Z') ? atOffset(stamp, readersOffset(new Date(stamp))) : stamp
  return `${day(local, now).replace(/^\w+ /, '')}, ${shortClock(local)}`
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
  if (seconds < 60) return `${seconds} s`
  const minutes = Math.round(seconds / 60)
  if (minutes < 60) return `${minutes} min`
  const hours = Math.floor(minutes / 60)
  if (hours < 24) return minutes % 60 ? `${hours} h ${minutes % 60} min` : `${hours} h`
  const days = Math.floor(hours / 24)
  const name = days === 1 ? '1 day' : `${days} days`
  return hours % 24 ? `${name} ${hours % 24} h` : name
}

/** Only gaps of at least this long are written between two records. */
export const GAP_WORTH_SAYING_MS = 20 * 60_000

/** The words between two records by their claimed times, or "" when nothing needs saying. */
export function gap(before: string, after: string): string {
  const ms = Date.parse(after) - Date.parse(before)
  if (Number.isNaN(ms)) return ''
  if (ms < -60_000) return `claimed ${span(ms)} before the record above`
  return ms >= GAP_WORTH_SAYING_MS ? span(ms) : ''
}

/** What is known of a clock against the server's; `offset` is server minus device. */
export function offsetWords(offset: number | null, whose = "This phone's clock"): string {
  if (offset === null) return `${whose} had not been compared with the server's.`
  if (Math.abs(offset) < 1000) return `${whose} agreed with the server's to within a second.`
  const exact = Math.abs(offset) < 60_000 ? `${(Math.abs(offset) / 1000).toFixed(1)} s` : span(offset)
  return `${whose} was ${exact} ${offset > 0 ? 'slow' : 'fast'} against the server's.`
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

/** "5 208": thousands parted by a narrow space that does not break. */
export function figure(n: number): string {
  return String(n).replace(/\B(?=(\d{3})+(?!\d))/g, '\u202f')
}

/** "1 record", "112 records", "no records". */
export function count(n: number, one: string, many = `${one}s`): string {
  if (n === 0) return `no ${many}`
  return `${figure(n)} ${n === 1 ? one : many}`
}

/** "a, b and c" */
export function listed(words: string[]): string {
  if (words.length < 2) return words[0] ?? ''
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`
}

/** Bytes as a person says them: "312 kB", "3.4 MB". */
export function bytes(n: number): string {
  if (n < 1000) return `${n} bytes`
  if (n < 1_000_000) return `${Math.round(n / 1000)} kB`
  if (n < 1_000_000_000) return `${(n / 1_000_000).toFixed(1)} MB`
  return `${(n / 1_000_000_000).toFixed(2)} GB`
}

/** "first visit", "third visit", "12th visit"; `earlier` is the number of visits before this one. */
export function visit(earlier: number): string {
  const names = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'eighth', 'ninth', 'tenth']
  return `${names[earlier] ?? `${earlier + 1}th`} visit`
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

/** The words of all faults that stand in a field or in what it holds: "banks" takes in "banks.0.code". */
export function faultsAt(faults: Fault[], field: string): string {
  return faults
    .filter(({ where }) => where === field || where.startsWith(`${field}.`))
    .map(({ message }) => message)
    .join(' ')
}

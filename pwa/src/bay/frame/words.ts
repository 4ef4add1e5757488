// Times, dates and counts as they are written on the screens.
import { listed } from '../../trade/ground/sentences.ts'
import { say } from './say.ts'

const two = (n: number) => String(n).padStart(2, '0')
const month = (number: number) => say('time.months').split(' ')[number - 1] ?? ''
const dayTime = (date: number, number: number, time: string) => say('time.day_and_time', { day: String(date), month: month(number), time })

/** 10:42 today, else 14 May 10:42. A time the device claimed is shown as it was claimed: its own offset, not ours. */
export function clockTime(text: string | null, now = new Date()): string {
  if (!text) return ''
  const claimed = /^(\d{4})-(\d\d)-(\d\d)T(\d\d:\d\d)/.exec(text)
  if (!claimed) return text
  const [, year, monthNumber, date, time] = claimed
  if (text.endsWith('Z')) return localTime(new Date(text), now)
  const today = `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`
  return `${year}-${monthNumber}-${date}` === today ? time! : dayTime(Number(date), Number(monthNumber), time!)
}

function localTime(at: Date, now: Date): string {
  const time = `${two(at.getHours())}:${two(at.getMinutes())}`
  return at.toDateString() === now.toDateString() ? time : dayTime(at.getDate(), at.getMonth() + 1, time)
}

/** 14 May 2026. */
export function day(text: string): string {
  const [year = '', number = '1', date = ''] = text.slice(0, 10).split('-')
  return say('time.date', { day: String(Number(date)), month: month(Number(number)), year })
}

/** 14 May, with the year only when it is not this one. */
export function shortDay(text: string, now = new Date()): string {
  const [year = '', number = '1', date = ''] = text.slice(0, 10).split('-')
  if (Number(year) !== now.getFullYear()) return day(text)
  return say('time.date_this_year', { day: String(Number(date)), month: month(Number(number)) })
}

/** What still waits on this phone, in words: '4 records and 3 pictures'; '' for nothing. */
export function waitingText(w: { records: number; pictures: number; sounds: number }): string {
  return listed([
    ...(w.records ? [say('common.records', { count: w.records })] : []),
    ...(w.pictures ? [say('common.pictures', { count: w.pictures })] : []),
    ...(w.sounds ? [say('common.recordings', { count: w.sounds })] : []),
  ])
}

export function sentence(fault: unknown): string {
  if (fault instanceof Error && fault.message) return fault.message
  return say('common.failed')
}

export const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

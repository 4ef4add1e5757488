// Days as the office writes them, from "2026-09-02". Pure: `today` is passed in where a day is compared.

import { say } from '../../frame/say.ts'
import { dateText } from '../../frame/words.ts'

/** "2 Sep 2026"; what is no date is given back as it is. */
export function dateWords(date: string): string {
  const parts = /^(\d{4})-(\d{2})-(\d{2})/.exec(date)
  return parts ? dateText(Number(parts[1]), Number(parts[2]), Number(parts[3])) : date
}

/** Today by the reader's own calendar, "2026-09-02". */
export function today(now: Date = new Date()): string {
  const pad = (n: number) => String(n).padStart(2, '0')
  return `${now.getFullYear()}-${pad(now.getMonth() + 1)}-${pad(now.getDate())}`
}

const daysUntil = (due: string, now: string) => Math.round((Date.parse(due) - Date.parse(now)) / 86_400_000)

/** Whether a due date, "" for none, lies before `now`. */
export function isOverdue(due: string, now: string): boolean {
  return daysUntil(due, now) < 0
}

const SOON_DAYS = 30

/** A due date against today: "due 2 Sep 2026", "due 2 Sep 2026, in 12 days", "overdue since …", "no due date". */
export function dueWords(due: string, now: string): string {
  if (!due) return say('registers.no_due_date')
  const days = daysUntil(due, now)
  const date = dateWords(due)
  if (Number.isNaN(days)) return say('registers.due', { date })
  if (days < 0) return say('registers.overdue_since', { date, count: -days })
  if (days === 0) return say('registers.due_today')
  return days <= SOON_DAYS ? say('registers.due_in', { date, count: days }) : say('registers.due', { date })
}

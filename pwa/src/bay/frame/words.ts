// Times and counts as people in the workshop say them.

const two = (n: number) => String(n).padStart(2, '0')
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec']

/** 10:42 today, else 14 May 10:42. A time the device claimed is shown as it was claimed: its own offset, not ours. */
export function clockTime(text: string | null, now = new Date()): string {
  if (!text) return ''
  const claimed = /^(\d{4})-(\d\d)-(\d\d)T(\d\d:\d\d)/.exec(text)
  if (!claimed) return text
  const [, year, month, day, time] = claimed
  if (text.endsWith('Z')) return localTime(new Date(text), now)
  const today = `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`
  return `${year}-${month}-${day}` === today ? time! : `${Number(day)} ${MONTHS[Number(month) - 1]} ${time}`
}

function localTime(at: Date, now: Date): string {
  const time = `${two(at.getHours())}:${two(at.getMinutes())}`
  return at.toDateString() === now.toDateString() ? time : `${at.getDate()} ${MONTHS[at.getMonth()]} ${time}`
}

/** 14 May 2026. */
export function day(text: string): string {
  const [year = '', month = '1', date = ''] = text.slice(0, 10).split('-')
  return `${Number(date)} ${MONTHS[Number(month) - 1]} ${year}`
}

/** 14 May, with the year only when it is not this one. */
export function shortDay(text: string, now = new Date()): string {
  const full = day(text)
  return full.endsWith(` ${now.getFullYear()}`) ? full.slice(0, -5) : full
}

export function count(n: number, one: string, many = `${one}s`): string {
  return `${n === 0 ? 'no' : n} ${n === 1 ? one : many}`
}

/** What is still on this phone, in words: '4 records and 3 pictures'. */
export function load(w: { records: number; pictures: number; sounds: number }): string {
  const parts = [
    w.records && count(w.records, 'record'),
    w.pictures && count(w.pictures, 'picture'),
    w.sounds && count(w.sounds, 'recording'),
  ].filter(Boolean)
  if (parts.length === 0) return 'nothing'
  return parts.length === 1 ? String(parts[0]) : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`
}

export function sentence(fault: unknown): string {
  if (fault instanceof Error && fault.message) return fault.message
  return 'That did not work. Try once more; if it fails again, close the app and open it anew.'
}

export const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

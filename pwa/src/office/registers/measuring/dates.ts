// Days as the trade writes them, from "2026-09-02". Pure: `today` is passed in where a day is compared.

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec']

/** "2 Sep 2026"; what is no date is given back as it is. */
export function dateWords(date: string): string {
  const found = /^(\d{4})-(\d{2})-(\d{2})/.exec(date)
  return found ? `${Number(found[3])} ${MONTHS[Number(found[2]) - 1]} ${found[1]}` : date
}

/** Today by the reader's own calendar, "2026-09-02". */
export function today(now: Date = new Date()): string {
  const pad = (n: number) => String(n).padStart(2, '0')
  return `${now.getFullYear()}-${pad(now.getMonth() + 1)}-${pad(now.getDate())}`
}

/** How a due date stands: "due 2 Sep 2026", "due in 12 days", "overdue since 2 Sep 2026 (41 days)", "no due date". */
export function dueWords(due: string, now: string): string {
  if (!due) return 'no due date'
  const days = Math.round((Date.parse(due) - Date.parse(now)) / 86_400_000)
  if (Number.isNaN(days)) return `due ${due}`
  if (days < 0) return `overdue since ${dateWords(due)}, ${-days === 1 ? '1 day' : `${-days} days`}`
  if (days === 0) return 'due today'
  return days <= 30 ? `due ${dateWords(due)}, in ${days === 1 ? '1 day' : `${days} days`}` : `due ${dateWords(due)}`
}

// A mark outside the database, so that a phone whose store was emptied knows it was once more than a new phone.
import { phone } from './identity.ts'
import { waiting } from './changes.ts'

const KEY = 'witnessmark.bay.held'

interface Mark {
  workshop: string
  records: number
  files: number
}

/** Notes what this phone holds alone. Only for the words after a loss; the store itself is what counts. */
export function leaveMark(): void {
  if (typeof localStorage === 'undefined' || !phone.peek()) return
  const { records, pictures, sounds } = waiting.peek()
  const mark: Mark = { workshop: phone.peek()?.workshop.name ?? '', records, files: pictures + sounds }
  try {
    localStorage.setItem(KEY, JSON.stringify(mark))
  } catch {
    // A browser that refuses this little refuses the records too; the start says so.
  }
}

/** '' or the words for a phone that finds its store emptied: what is gone, and what to do. */
export function emptiedWords(): string {
  if (typeof localStorage === 'undefined' || phone.peek()) return ''
  try {
    const mark = JSON.parse(localStorage.getItem(KEY) ?? 'null') as Mark | null
    if (!mark) return ''
    const lost = [told(mark.records, 'record'), told(mark.files, 'picture or sound', 'pictures or sounds')].filter(Boolean).join(' and ')
    const gone = lost ? `Not sent, and lost: ${lost}.` : 'Everything on it had been sent.'
    return `This phone belonged to ${mark.workshop}, and its store was emptied since, by the browser or by somebody. ${gone} Join the workshop anew.`
  } catch {
    return ''
  }
}

const told = (count: number, one: string, many = `${one}s`) => (count ? `${count} ${count === 1 ? one : many}` : '')

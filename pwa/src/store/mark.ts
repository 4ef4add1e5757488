// A mark outside the database, so that a phone whose store was emptied knows it was once more than a new phone.
import { listed } from '../trade/ground/sentences.ts'
import { phone } from './identity.ts'
import { waiting } from './changes.ts'
import { say } from './say.ts'

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
    const { workshop, records, files } = mark
    const lost = [
      ...(records ? [say('count.records', { count: records })] : []),
      ...(files ? [say('count.files', { count: files })] : []),
    ]
    const gone = lost.length ? say('store.lost', { what: listed(lost) }) : say('store.all_sent')
    return say('store.emptied', { workshop, gone })
  } catch {
    return ''
  }
}


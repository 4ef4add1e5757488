import type { ComponentChildren } from 'preact'
import { type Job, type Row, countOf, previewOf, tallies, timeline, within } from '../../store/index.ts'
import { open } from '../frame/route.ts'
import { useStored, useBlob } from '../frame/useStored.ts'
import { say } from '../frame/say.ts'

const SHOWN = 3

/** The newest pictures of a place, and the way to everything recorded there. */
export function Thumbs({ job, place }: { job: Job; place: string }) {
  const rows = useStored<Row[]>([], () => timeline(job.id, { kinds: ['photo_taken'], place: place || undefined, limit: SHOWN }), [job.id, place])
  const all = useStored(0, () => countAt(job.id, place), [job.id, place])
  return (
    <div class="thumbs in-grid keeps">
      {rows.map((row) => (
        <Thumb key={row.id} row={row} onOpen={() => open('picture', job.id, row.id)} />
      ))}
      <button type="button" class="thumb is-all" onClick={() => open('record', job.id, place ? 'here' : '')}>
        {all === 0 ? say('thumbs.none') : say('thumbs.all', { count: all })}
      </button>
    </div>
  )
}

async function countAt(job: string, place: string): Promise<number> {
  if (!place) return (await countOf(job)).records
  const at = await tallies(job)
  return Object.entries(at).reduce((sum, [code, count]) => sum + (within(code, place) ? count : 0), 0)
}

/** One small picture; before its preview is here, a plain frame with the word for it. */
export function Thumb({ row, onOpen, children }: { row: Row; onOpen: () => void; children?: ComponentChildren }) {
  const sha = row.entry.media[0]?.sha256 ?? ''
  const url = useBlob(() => previewOf(sha, 'small'), [sha])
  const caption = String(row.entry.body.caption ?? '')
  return (
    <button type="button" class={`thumb${row.withdrawn ? ' is-withdrawn' : ''}`} aria-label={caption ? say('thumbs.open_captioned', { caption }) : say('thumbs.open')} onClick={onOpen}>
      {url ? <img class="whole" src={url} alt="" /> : <span class="soft tiny light">{say('thumbs.blank')}</span>}
      {children}
    </button>
  )
}

import { PhotoViewer } from '../../parts/media/PhotoViewer.tsx'
import { type Job, type Row, originalOf, previewOf, record, timeline } from '../../store/index.ts'
import { useServer } from '../frame/ask.ts'
import { Act, BackAct, Screen } from '../frame/Frame.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { instead, open } from '../frame/route.ts'
import { useAsked, useBlob } from '../frame/useAsked.ts'
import { authorOf } from '../frame/who.ts'
import { clockTime } from '../frame/words.ts'

/** One picture as large as it is; the neighbours are the pictures of the same place. */
export function PictureView({ job, id }: { job: Job; id: string }) {
  const server = useServer()
  const row = useAsked<Row | null>(null, () => record(id), [id])
  const place = row?.place
  const rows = useAsked<Row[]>([], async () => (place === undefined ? [] : timeline(job.id, { kinds: ['photo_taken'], place: place || undefined, limit: 500 })), [job.id, place])
  const beside = rows.filter((r) => r.place === place)
  const at = beside.findIndex((r) => r.id === id)
  const sha = row?.entry.media[0]?.sha256 ?? ''
  const small = useBlob(async () => (sha ? ((await previewOf(sha, 'large')) ?? (await previewOf(sha, 'small'))) : null), [sha])
  const full = useBlob(async () => (sha ? ((await originalOf(sha)) ?? (await server.fetchOriginal(sha))) : null), [sha])
  const src = full ?? small
  const step = (to: Row | undefined) => (to ? () => instead('picture', job.id, to.id) : null)
  const { width, height, caption } = (row?.entry.body ?? {}) as { width?: number; height?: number; caption?: string }
  return (
    <Screen
      title={`Picture, ${row ? nameOfPlace(job, row.place, row.point) : ''}`}
      quiet
      job={job}
      full
      acts={
        <>
          <BackAct />
          {row && <Act name="What it says" onAct={() => open('entry', job.id, row.id)} />}
        </>
      }
    >
      {src ? (
        <PhotoViewer src={src} alt={caption || `Picture of ${row ? nameOfPlace(job, row.place, row.point) : 'the job'}`} onPrevious={step(beside[at + 1])} onNext={step(beside[at - 1])} />
      ) : (
        <p class="inset">{row ? 'This picture is not on this phone in any size yet. It comes from the server when there is signal.' : ''}</p>
      )}
      {row && (
        <p class="picture-words small">
          <strong>{nameOfPlace(job, row.place, row.point)}</strong>
          {caption ? ` · ${caption}` : ''} · {clockTime(row.entry.claimed)} · {authorOf(row.entry)} ·{' '}
          {full ? `original${width && height ? `, ${width} × ${height}` : ''}` : 'small copy'}
          {row.withdrawn ? ' · withdrawn' : ''}
        </p>
      )}
    </Screen>
  )
}

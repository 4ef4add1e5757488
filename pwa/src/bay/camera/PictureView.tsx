import { PhotoViewer } from '../../parts/media/PhotoViewer.tsx'
import { type Job, type Row, originalOf, previewOf, record, timeline } from '../../store/index.ts'
import { useServer } from '../frame/server.ts'
import { Act, BackAct, Screen } from '../frame/Frame.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { instead, open } from '../frame/route.ts'
import { useStored, useBlob } from '../frame/useStored.ts'
import { authorOf } from '../frame/who.ts'
import { clockTime } from '../frame/words.ts'
import { say } from '../frame/say.ts'

/** One picture as large as it is; the neighbours are the pictures of the same place. */
export function PictureView({ job, id }: { job: Job; id: string }) {
  const server = useServer()
  const row = useStored<Row | null>(null, () => record(id), [id])
  const place = row?.place
  const rows = useStored<Row[]>([], async () => (place === undefined ? [] : timeline(job.id, { kinds: ['photo_taken'], place: place || undefined, limit: 500 })), [job.id, place])
  const beside = rows.filter((r) => r.place === place)
  const at = beside.findIndex((r) => r.id === id)
  const sha = row?.entry.media[0]?.sha256 ?? ''
  const small = useBlob(async () => (sha ? ((await previewOf(sha, 'large')) ?? (await previewOf(sha, 'small'))) : null), [sha])
  const full = useBlob(async () => (sha ? ((await originalOf(sha)) ?? (await server.fetchOriginal(sha))) : null), [sha])
  const src = full ?? small
  const step = (to: Row | undefined) => (to ? () => instead('picture', job.id, to.id) : null)
  const { caption = '' } = (row?.entry.body ?? {}) as { caption?: string }
  const placeName = row ? nameOfPlace(job, row.place, row.point) : ''
  return (
    <Screen
      title={say('picture.title', { place: placeName })}
      quiet
      job={job}
      full
      acts={
        <>
          <BackAct />
          {row && <Act name={say('picture.open_record')} onAct={() => open('entry', job.id, row.id)} />}
        </>
      }
    >
      {src ? (
        <PhotoViewer src={src} alt={caption || say('picture.alt', { place: placeName })} onPrevious={step(beside[at + 1])} onNext={step(beside[at - 1])} />
      ) : (
        <p class="inset">{row ? say('picture.not_here') : ''}</p>
      )}
      {row && (
        <p class="picture-words small">
          <strong>{placeName}</strong>
          {[caption, clockTime(row.entry.claimed), authorOf(row.entry), full ? originalWords(row) : say('picture.preview'), row.withdrawn && say('common.withdrawn')]
            .filter(Boolean)
            .map((words) => ` · ${words}`)
            .join('')}
        </p>
      )}
    </Screen>
  )
}

function originalWords(row: Row): string {
  const { width, height } = row.entry.body as { width?: number; height?: number }
  return width && height ? say('picture.original_of_size', { width: String(width), height: String(height) }) : say('picture.original')
}

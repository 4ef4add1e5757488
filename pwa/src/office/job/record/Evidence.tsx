import { Sheaf } from '../../../parts/controls/icons.tsx'
import { RecordedSound } from '../../spoken/Said.tsx'
import type { Item, Media } from '../../frame/shapes.ts'
import { bytes } from '../../frame/words.ts'
import { choiceWords, standing } from './fields.ts'
import { picture } from './picture.ts'
import { original, preview } from './Thumb.tsx'
import { say } from '../../frame/say.ts'

/** What was recorded, as large as it can be shown: picture, sound, paper, or the words and figures themselves. */
export function Evidence({ item, enlarge }: { item: Item; enlarge: () => void }) {
  const shown = picture(item)
  if (shown) return <Picture item={item} medium={shown} enlarge={enlarge} />
  const sound = item.media.find((medium) => medium.role === 'audio')
  if (sound) return <Sound item={item} medium={sound} />
  const paper = item.media[0]
  return paper ? <Paper medium={paper} title={item.title} /> : <Written item={item} />
}

const ABSENT = { picture: 'record.picture_absent', recording: 'record.recording_absent', document: 'record.document_absent' } as const

function Absent({ medium, what }: { medium: Media; what: keyof typeof ABSENT }) {
  return <p class="exhibit-absent">{say(ABSENT[what], { size: bytes(medium.length) })}</p>
}

function Picture({ item, medium, enlarge }: { item: Item; medium: Media; enlarge: () => void }) {
  if (!medium.here && !medium.preview) return <Absent medium={medium} what="picture" />
  const size = item.body['width'] && item.body['height'] ? `${item.body['width']} × ${item.body['height']}` : ''
  return (
    <figure class="exhibit-picture">
      <button type="button" onClick={enlarge} aria-label={say('record.viewer', { number: String(item.exhibit) })}>
        <img src={preview(medium.sha256, 1600, medium.preview)} alt={altOf(item)} />
      </button>
      <figcaption>
        {medium.here ? (
          <a href={original(medium.sha256)} target="_blank" rel="noopener">
            {say('record.original')}
          </a>
        ) : (
          <span class="caution">{say('record.preview_only')}</span>
        )}
        <span class="figure">{[size, bytes(medium.length)].filter(Boolean).join(' · ')}</span>
      </figcaption>
    </figure>
  )
}

/** What a picture shows, in words, for those who do not see it. */
export function altOf(item: Item): string {
  const what = [item.place_name, item.point].filter(Boolean).join(', ')
  return [
    say('record.picture_alt', { number: String(item.exhibit), title: item.title }),
    what && !item.title.includes(item.place_name) ? what : '',
    item.text,
  ]
    .filter(Boolean)
    .join('. ')
}

function Sound({ item, medium }: { item: Item; medium: Media }) {
  if (!medium.here) return <Absent medium={medium} what="recording" />
  return (
    <div class="exhibit-sound">
      <RecordedSound item={item} medium={medium} />
      <p class="soft">
        {say('record.as_recorded', { size: bytes(medium.length) })}
      </p>
    </div>
  )
}

function Paper({ medium, title }: { medium: Media; title: string }) {
  if (!medium.here) return <Absent medium={medium} what="document" />
  return (
    <div class="exhibit-paper">
      <h3>{title}</h3>
      <p>
        <Sheaf size={22} />
        <a href={original(medium.sha256)} target="_blank" rel="noopener">
          {medium.name ? say('record.open_file', { name: medium.name }) : say('record.open_document')}
        </a>
        <span class="figure">{bytes(medium.length)}</span>
      </p>
    </div>
  )
}

/** Records without a file: the reading as on a drawing, the note as it was written, what you see apart from the opinion. */
function Written({ item }: { item: Item }) {
  const now = standing(item).body
  const text = (field: string) => (now[field] ? String(now[field]) : '')
  if (item.kind === 'measured' || item.kind === 'fastener_tightened') return <Reading item={item} now={now} />
  if (['note_made', 'transcript_made', 'transcript_confirmed'].includes(item.kind) && text('text'))
    return <blockquote class="exhibit-words">{text('text')}</blockquote>
  if (item.kind !== 'finding_made') return null
  return (
    <div class="exhibit-words exhibit-finding">
      <div>
        <h3>{say('record.observation')}</h3>
        <p>{text('observation')}</p>
      </div>
      {text('opinion') && (
        <div>
          <h3>{say('record.opinion')}</h3>
          <p>{text('opinion')}</p>
        </div>
      )}
    </div>
  )
}

/** A measured value or a tightened fastener: what it is of, the value between its arrows, the gauge or tool. */
function Reading({ item, now }: { item: Item; now: Record<string, unknown> }) {
  const text = (field: string) => (now[field] ? String(now[field]) : '')
  const method = choiceWords(item.kind, 'method', now['method'])
  const quantity = text('quantity') && choiceWords(item.kind, 'quantity', now['quantity'])
  const unnamed = item.kind === 'measured' ? say('record.no_gauge') : say('record.no_tool')
  return (
    <div class="exhibit-reading">
      <p class="soft">{quantity || [text('fastener'), method].join(', ')}</p>
      <Dimension value={text('value') || method} unit={text('unit')} />
      <p class="soft">{[text('gauge'), text('tool')].filter(Boolean).join(', ') || unnamed}</p>
    </div>
  )
}

/** A value between two extension lines with arrows, as ISO 129-1 draws a dimension. */
function Dimension({ value, unit }: { value: string; unit: string }) {
  return (
    <p class="dimension">
      <span class="dimension-line" aria-hidden="true" />
      <span class="figure">{value}</span> {unit && <span class="dimension-unit">{unit}</span>}
      <span class="dimension-line" aria-hidden="true" />
    </p>
  )
}

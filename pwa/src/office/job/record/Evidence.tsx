import type { ComponentType } from 'preact'
import { Sheaf } from '../../../parts/controls/icons.tsx'
import { fieldLabel, fieldWords } from '../../../trade/record/fields.ts'
import { KINDS, type View } from '../../../trade/record/kinds.ts'
import type { Item, Media } from '../../frame/shapes.ts'
import { bytes } from '../../frame/words.ts'
import { standing } from './fields.ts'
import { picture } from '../../frame/picture.ts'
import { original, preview } from '../../frame/Thumb.tsx'
import { RecordedSound } from '../../recording/Said.tsx'
import { say } from '../../frame/say.ts'
import './evidence.css'

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
  return <p class="exhibit-absent line-under">{say(ABSENT[what], { size: bytes(medium.length) })}</p>
}

function Picture({ item, medium, enlarge }: { item: Item; medium: Media; enlarge: () => void }) {
  if (!medium.here && !medium.preview) return <Absent medium={medium} what="picture" />
  const size = item.body['width'] && item.body['height'] ? `${item.body['width']} × ${item.body['height']}` : ''
  return (
    <figure class="exhibit-picture">
      <button class="own-line whole ring-inside" type="button" onClick={enlarge} aria-label={say('record.viewer', { number: String(item.exhibit) })}>
        <img class="whole" src={preview(medium.sha256, 1600, medium.preview)} alt={altOf(item)} />
      </button>
      <figcaption class="ends line-under in-row">
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
    <div class="exhibit-sound line-under">
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
    <div class="exhibit-paper line-under in-grid">
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

interface WrittenProps {
  item: Item
  /** A field as it stands today, "" when nothing is said. */
  text: (field: string) => string
}

/** A reading as on a drawing, with the gauge under it. */
function Reading({ item, text }: WrittenProps) {
  return (
    <div class="exhibit-reading to-middle">
      <p class="soft">{text('quantity') && fieldWords(item.kind, 'quantity', text('quantity'))}</p>
      <Dimension value={text('value')} unit={text('unit')} />
      <p class="soft">{text('gauge') || say('record.no_gauge')}</p>
    </div>
  )
}

/** What a fastener was tightened or released by; by feel there is no value. */
function Tightening({ item, text }: WrittenProps) {
  const method = fieldWords(item.kind, 'method', text('method'))
  return (
    <div class="exhibit-reading to-middle">
      <p class="soft">{[text('fastener'), method].join(', ')}</p>
      <Dimension value={text('value') || method} unit={text('unit')} />
      <p class="soft">{text('tool') || say('record.no_tool')}</p>
    </div>
  )
}

/** What is seen, kept apart from the opinion. */
function Finding({ item, text }: WrittenProps) {
  return (
    <div class="exhibit-words exhibit-finding large in-grid">
      <div>
        <h3 class="soft small light">{fieldLabel(item.kind, 'observation')}</h3>
        <p>{text('observation')}</p>
      </div>
      {text('opinion') && (
        <div>
          <h3 class="soft small light">{fieldLabel(item.kind, 'opinion')}</h3>
          <p>{text('opinion')}</p>
        </div>
      )}
    </div>
  )
}

function Text({ text }: WrittenProps) {
  return text('text') ? <blockquote class="exhibit-words large">{text('text')}</blockquote> : null
}

/** The drawing of each view that has no file; a file is drawn as what it is, and facts alone stand under the title. */
const WRITTEN: Record<Exclude<View, 'picture' | 'sound' | 'document'>, ComponentType<WrittenProps> | null> = {
  reading: Reading,
  tightening: Tightening,
  finding: Finding,
  text: Text,
  facts: null,
}

function Written({ item }: { item: Item }) {
  const view = KINDS[item.kind]?.view ?? 'facts'
  const Drawing = view in WRITTEN ? WRITTEN[view as keyof typeof WRITTEN] : null
  const now = standing(item).body
  return Drawing && <Drawing item={item} text={(field) => (now[field] ? String(now[field]) : '')} />
}

/** A value between two extension lines with arrows, as ISO 129-1 draws a dimension. */
function Dimension({ value, unit }: { value: string; unit: string }) {
  return (
    <p class="dimension">
      <span class="dimension-line" aria-hidden="true" />
      <span class="figure">{value}</span> {unit && <span class="dimension-unit large">{unit}</span>}
      <span class="dimension-line" aria-hidden="true" />
    </p>
  )
}

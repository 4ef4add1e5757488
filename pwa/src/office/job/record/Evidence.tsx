import type { ComponentType } from 'preact'
import { Sheaf } from '../../../parts/controls/icons.tsx'
import { fieldLabel, fieldWords } from '../../../trade/record/fields.ts'
import { KINDS, type View } from '../../../trade/record/kinds.ts'
import { Said } from '../../recording/Said.tsx'
import type { Item, Media } from '../../frame/shapes.ts'
import { bytes } from '../../frame/words.ts'
import { standing } from './fields.ts'
import { picture } from '../../frame/picture.ts'
import { original, preview } from '../../frame/Thumb.tsx'

/** What was recorded, as large as it can be shown: picture, sound, paper, or the words and figures themselves. */
export function Evidence({ item, enlarge }: { item: Item; enlarge: () => void }) {
  const shown = picture(item)
  if (shown) return <Picture item={item} medium={shown} enlarge={enlarge} />
  const sound = item.media.find((medium) => medium.role === 'audio')
  if (sound) return <Sound item={item} medium={sound} />
  const paper = item.media[0]
  return paper ? <Paper medium={paper} title={item.title} /> : <Written item={item} />
}

function Absent({ medium, what }: { medium: Media; what: string }) {
  return (
    <p class="exhibit-absent">
      The record is here; {what} ({bytes(medium.length)}) is still on the way. It appears here by itself.
    </p>
  )
}

function Picture({ item, medium, enlarge }: { item: Item; medium: Media; enlarge: () => void }) {
  if (!medium.here && !medium.preview) return <Absent medium={medium} what="its picture" />
  const size = item.body['width'] && item.body['height'] ? `${item.body['width']} × ${item.body['height']}` : ''
  return (
    <figure class="exhibit-picture">
      <button type="button" onClick={enlarge} aria-label={`See exhibit ${item.exhibit} in full`}>
        <img src={preview(medium.sha256, 1600, medium.preview)} alt={altOf(item)} />
      </button>
      <figcaption>
        {medium.here ? (
          <a href={original(medium.sha256)} target="_blank" rel="noopener">
            original
          </a>
        ) : (
          <span class="caution">preview; the original is on the way</span>
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
    `Exhibit ${item.exhibit}: ${item.title}`,
    what && !item.title.includes(item.place_name) ? what : '',
    item.text,
  ]
    .filter(Boolean)
    .join('. ')
}

function Sound({ item, medium }: { item: Item; medium: Media }) {
  if (!medium.here) return <Absent medium={medium} what="its sound" />
  return (
    <div class="exhibit-sound">
      <Said item={item} medium={medium} />
      <p class="soft">
        As recorded, {bytes(medium.length)}. A recording is evidence in its own right: it is never changed or shortened.
      </p>
    </div>
  )
}

function Paper({ medium, title }: { medium: Media; title: string }) {
  if (!medium.here) return <Absent medium={medium} what="the document" />
  return (
    <div class="exhibit-paper">
      <h3>{title}</h3>
      <p>
        <Sheaf size={22} />
        <a href={original(medium.sha256)} target="_blank" rel="noopener">
          Open {medium.name || 'the document'}
        </a>
        <span class="figure">{bytes(medium.length)}</span>
      </p>
    </div>
  )
}

interface WrittenProps {
  item: Item
  /** A field as it stands today, "" when nothing is said. */
  say: (field: string) => string
}

/** A reading as on a drawing, with the gauge under it. */
function Reading({ item, say }: WrittenProps) {
  return (
    <div class="exhibit-reading">
      <p class="soft">{say('quantity') && fieldWords(item.kind, 'quantity', say('quantity'))}</p>
      <Dimension value={say('value')} unit={say('unit')} />
      <p class="soft">{say('gauge') || 'no gauge named'}</p>
    </div>
  )
}

/** What a fastener was tightened or released by; by feel there is no value. */
function Tightening({ item, say }: WrittenProps) {
  const method = fieldWords(item.kind, 'method', say('method'))
  return (
    <div class="exhibit-reading">
      <p class="soft">{[say('fastener'), method].join(', ')}</p>
      <Dimension value={say('value') || method} unit={say('unit')} />
      <p class="soft">{say('tool') || 'no tool named'}</p>
    </div>
  )
}

/** What is seen, kept apart from the opinion. */
function Finding({ item, say }: WrittenProps) {
  return (
    <div class="exhibit-words exhibit-finding">
      <div>
        <h3>{fieldLabel(item.kind, 'observation')}</h3>
        <p>{say('observation')}</p>
      </div>
      {say('opinion') && (
        <div>
          <h3>{fieldLabel(item.kind, 'opinion')}</h3>
          <p>{say('opinion')}</p>
        </div>
      )}
    </div>
  )
}

function Text({ say }: WrittenProps) {
  return say('text') ? <blockquote class="exhibit-words">{say('text')}</blockquote> : null
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
  return Drawing && <Drawing item={item} say={(field) => (now[field] ? String(now[field]) : '')} />
}

/** A value between two extension lines, with its arrows (ISO 129-1's habit). */
function Dimension({ value, unit }: { value: string; unit: string }) {
  return (
    <p class="dimension">
      <span class="dimension-line" aria-hidden="true" />
      <span class="figure">{value}</span> {unit && <span class="dimension-unit">{unit}</span>}
      <span class="dimension-line" aria-hidden="true" />
    </p>
  )
}

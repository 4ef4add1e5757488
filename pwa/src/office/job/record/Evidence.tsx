import { Sheaf } from '../../../parts/controls/icons.tsx'
import { Said } from '../../recording/Said.tsx'
import type { Item, Media } from '../../frame/shapes.ts'
import { bytes } from '../../frame/words.ts'
import { choiceWords, standing } from './fields.ts'
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

/** Records without a file: the reading as on a drawing, the note as it was written, what is seen apart from the opinion. */
function Written({ item }: { item: Item }) {
  const now = standing(item).body
  const say = (field: string) => (now[field] ? String(now[field]) : '')
  if (item.kind === 'measured' || item.kind === 'fastener_tightened') {
    return (
      <div class="exhibit-reading">
        <p class="soft">
          {(say('quantity') && choiceWords(item.kind, 'quantity', now['quantity'])) || [say('fastener'), choiceWords(item.kind, 'method', now['method'])].join(', ')}
        </p>
        <Dimension value={say('value') || choiceWords(item.kind, 'method', now['method'])} unit={say('unit')} />
        <p class="soft">{[say('gauge'), say('tool')].filter(Boolean).join(', ') || (item.kind === 'measured' ? 'no gauge named' : 'no tool named')}</p>
      </div>
    )
  }
  if (['note_made', 'transcript_made', 'transcript_confirmed'].includes(item.kind) && say('text')) return <blockquote class="exhibit-words">{say('text')}</blockquote>
  if (item.kind === 'finding_made') {
    return (
      <div class="exhibit-words exhibit-finding">
        <div>
          <h3>seen</h3>
          <p>{say('observation')}</p>
        </div>
        {say('opinion') && (
          <div>
            <h3>opinion</h3>
            <p>{say('opinion')}</p>
          </div>
        )}
      </div>
    )
  }
  return null
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

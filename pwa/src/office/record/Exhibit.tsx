import type { ComponentChildren } from 'preact'
import { AudioPlayer } from '../../parts/AudioPlayer.tsx'
import { Balloon } from '../../parts/Balloon.tsx'
import { Back, Onward, Sheaf } from '../../parts/icons.tsx'
import type { Item, Media } from '../shapes.ts'
import { bytes, count, print, wholePrint } from '../words.ts'
import { changesOf, choiceWords, fieldWords, mayBeAnswered, nameOf, standing } from './fields.ts'
import { kindWords } from './kinds.ts'
import { picture } from './picture.ts'
import { placeName } from './places.ts'
import { stageWords } from './stages.ts'
import { choose, chosen, held, step } from './state.ts'
import { original, preview } from './Thumb.tsx'
import { Times } from './Times.tsx'

interface Props {
  enlarge: () => void
  answer: (how: 'correct' | 'withdraw') => void
  /** Puts the exhibit away where it covers the record (narrow sheets). */
  back: () => void
}

/** The exhibit in hand: its picture edge to edge, its sound or its paper, then everything known of it. */
export function Exhibit({ enlarge, answer, back }: Props) {
  const item = chosen.value
  if (!item) return <section class="exhibit exhibit-none" aria-label="Exhibit" />
  const index = held.value.items.indexOf(item)
  return (
    <section class="exhibit" aria-label={`Exhibit ${item.exhibit}`}>
      <Evidence item={item} enlarge={enlarge} />
      <div class="exhibit-facts">
        <header class="exhibit-head">
          <Balloon number={item.exhibit} solid />
          <h2>{item.title}</h2>
          <nav class="exhibit-steps" aria-label="Exhibits">
            <button type="button" class="exhibit-back" onClick={back}>
              Record
            </button>
            <button
              type="button"
              aria-label="Previous exhibit"
              disabled={index <= 0 && held.value.previous === null}
              onClick={() => step(-1)}
            >
              <Back size={20} />
            </button>
            <button
              type="button"
              aria-label="Next exhibit"
              disabled={index >= held.value.items.length - 1 && held.value.next === null}
              onClick={() => step(1)}
            >
              <Onward size={20} />
            </button>
          </nav>
        </header>
        {item.withdrawn && (
          <p class="exhibit-withdrawn">
            <b>Withdrawn</b> by exhibit {item.withdrawn.exhibit}: “{item.withdrawn.reason}” It stays readable here.
          </p>
        )}
        <Times item={item} />
        <Facts item={item} />
        <Corrections item={item} />
        <Speaks item={item} />
        {mayBeAnswered(item) && !item.withdrawn && (
          <div class="acts">
            <button type="button" onClick={() => answer('correct')}>
              Correct
            </button>
            <button type="button" onClick={() => answer('withdraw')}>
              Withdraw
            </button>
          </div>
        )}
      </div>
    </section>
  )
}

function Evidence({ item, enlarge }: { item: Item; enlarge: () => void }) {
  const shown = picture(item)
  if (shown) return <Picture item={item} medium={shown} enlarge={enlarge} />
  const sound = item.media.find((medium) => medium.role === 'audio')
  if (sound) return <Sound item={item} medium={sound} />
  const paper = item.media[0]
  return paper ? <Paper medium={paper} title={item.title} /> : null
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
      <AudioPlayer
        src={original(medium.sha256)}
        seconds={Number(item.body['duration_ms'] ?? 0) / 1000}
        name={`Recording, exhibit ${item.exhibit}`}
      />
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

/** Fields whose content stands elsewhere on the sheet or says nothing to a reader. */
const ELSEWHERE = new Set(
  (
    'width height duration_ms entry entry_hash changes location sharpness exposure interrupted engine_type ' +
    'earlier_job file_time'
  ).split(' '),
)

function Facts({ item }: { item: Item }) {
  const now = standing(item)
  const fields = Object.entries(item.body).filter(([field]) => !ELSEWHERE.has(field))
  const place = { from: [item.place_name, item.point], to: [now.place && placeName(now.place), now.point] }
  return (
    <dl class="facts">
      <Fact name="place" from={place.from.filter(Boolean).join(', ')} to={place.to.filter(Boolean).join(', ')} />
      {fields.map(([field, value]) => {
        const say = (v: unknown) =>
          field === 'stage' ? stageWords(String(v)) : isEmpty(v) ? '' : choiceWords(item.kind, field, v)
        return <Fact key={field} name={fieldWords(field)} from={say(value)} to={say(now.body[field])} />
      })}
      {item.body['exposure'] === 'dark' || item.body['exposure'] === 'bright' ? (
        <Fact name="exposure">{choiceWords(item.kind, 'exposure', item.body['exposure'])}</Fact>
      ) : null}
      <Fact name="kind">
        {kindWords(item.kind)}
        {item.stage && `, at ${stageWords(item.stage)}`}
      </Fact>
      <Fact name="by">
        {item.author.name}, on {item.device.name || 'the desk'}
      </Fact>
      <Fact name="print">
        <details class="print">
          <summary>
            <span class="figure">{print(item.hash)}</span>
          </summary>
          <span class="figure">{wholePrint(item.hash)}</span>
        </details>
      </Fact>
      <Fact name="in the log">
        <span class="figure">position {item.position}</span>
      </Fact>
    </dl>
  )
}

function isEmpty(value: unknown): boolean {
  return value === '' || value === null || value === undefined || (Array.isArray(value) && value.length === 0)
}

interface FactProps {
  name: string
  /** What was recorded and what stands now; struck out where they differ. */
  from?: string
  to?: string
  children?: ComponentChildren
}

/** One line of facts; nothing is drawn where nothing is known. */
function Fact({ name, from = '', to = '', children }: FactProps) {
  if (!children && !from && !to) return null
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        {children}
        {from === to ? from : null}
        {from !== to && from && <del>{from}</del>} {from !== to && to && <ins>{to}</ins>}
      </dd>
    </div>
  )
}
function Corrections({ item }: { item: Item }) {
  if (!item.corrected_by.length) return null
  const changes = changesOf(item, placeName)
  return (
    <section class="corrections" aria-label="Corrections">
      <h3>{count(item.corrected_by.length, 'correction')}</h3>
      {item.corrected_by.map((correction, index) => (
        <p key={correction.id}>
          {changes[index]!.map((change) => (
            <span key={change.field}>
              {fieldWords(change.field)}: <del>{change.from}</del> <ins>{change.to}</ins>.{' '}
            </span>
          ))}
          “{correction.reason}” <i>{nameOf(correction.by)}</i>, exhibit {correction.exhibit}
        </p>
      ))}
    </section>
  )
}

/** A correction or withdrawal leads to what it speaks about. */
function Speaks({ item }: { item: Item }) {
  const about = item.corrects
  if (!about) return null
  const there = held.value.items.find((other) => other.id === about.id)
  return (
    <p class="speaks">
      Speaks about exhibit{' '}
      {there ? (
        <button type="button" class="plain" onClick={() => choose(there)}>
          {about.exhibit}, {there.title}
        </button>
      ) : (
        about.exhibit
      )}
      .
    </p>
  )
}

import type { ComponentChildren } from 'preact'
import { Balloon } from '../../../parts/controls/Balloon.tsx'
import { Back, Onward } from '../../../parts/controls/icons.tsx'
import type { Item } from '../../frame/shapes.ts'
import { count, print, wholePrint, nameOf } from '../../frame/words.ts'
import { Evidence } from './Evidence.tsx'
import { changesOf, choiceWords, fieldOrder, fieldWords, mayBeAnswered, standing } from './fields.ts'
import { kindWords } from './kinds.ts'
import { picture } from '../../frame/picture.ts'
import { placeName } from './places.ts'
import { stageWords } from '../../frame/stages.ts'
import { address } from '../../frame/route.ts'
import { choose, chosen, held, job, step } from './state.ts'
import { Thumb } from '../../frame/Thumb.tsx'
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
        <SamePlace item={item} />
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

/** Fields whose content stands elsewhere on the sheet or says nothing to a reader. */
const ELSEWHERE = new Set(
  (
    'width height duration_ms entry entry_hash changes location sharpness exposure interrupted engine_type ' +
    'earlier_job file_time basis gauge_id reading edition run tool_id sheet joint screen spoken results outcome engine'
  ).split(' '),
)

/** Fields that stand large above the facts; here they are said again only where a correction struck them out. */
const SHOWN_LARGE: Record<string, string[]> = {
  note_made: ['text'],
  transcript_made: ['text'],
  transcript_confirmed: ['text'],
  finding_made: ['observation', 'opinion'],
  measured: ['quantity', 'value', 'unit', 'gauge'],
  fastener_tightened: ['value', 'unit', 'tool'],
}

function Facts({ item }: { item: Item }) {
  const now = standing(item)
  const fields = fieldOrder(item).filter((field) => !ELSEWHERE.has(field))
  const place = { from: [item.place_name, item.point], to: [now.place && placeName(now.place), now.point] }
  return (
    <dl class="facts">
      <Fact name="place" from={place.from.filter(Boolean).join(', ')} to={place.to.filter(Boolean).join(', ')} />
      {fields.map((field) => {
        const say = (v: unknown) =>
          field === 'stage' && !item.body['run'] ? stageWords(String(v)) : isEmpty(v) ? '' : choiceWords(item.kind, field, v)
        if (SHOWN_LARGE[item.kind]?.includes(field) && say(item.body[field]) === say(now.body[field])) return null
        return <Fact key={field} name={fieldWords(field, item.kind)} from={say(item.body[field])} to={say(now.body[field])} />
      })}
      {item.body['exposure'] === 'dark' || item.body['exposure'] === 'bright' ? (
        <Fact name="exposure">{choiceWords(item.kind, 'exposure', item.body['exposure'])}</Fact>
      ) : null}
      <SheetOf item={item} procedure={String(now.body['procedure'] ?? '')} state={String(now.body['state'] ?? '')} place={now.place} />
      <RunOf item={item} />
      <SoundOf item={item} />
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

/** The way from a reading to the sheet it stands on. */
function SheetOf({ item, procedure, state, place }: { item: Item; procedure: string; state: string; place: string }) {
  const open = job.value?.id
  if (item.kind !== 'measured' || !open || item.withdrawn) return null
  return (
    <Fact name="sheet">
      <a href={address(['job', open, 'figures'], { procedure: procedure || 'single_readings', state, place })}>Figures of this place</a>
    </Fact>
  )
}

/** The way from a record of a tightening to the joint as it was carried out. */
function RunOf({ item }: { item: Item }) {
  const [open, run] = [job.value?.id, item.body['run']]
  if (!open || typeof run !== 'string' || !run) return null
  return (
    <Fact name="joint">
      <a href={address(['job', open, 'joints'], { run })}>As carried out</a>
    </Fact>
  )
}

/** The way from a record that was spoken, or a transcript, to the recording it came from. */
function SoundOf({ item }: { item: Item }) {
  const sound = item.kind.startsWith('transcript_') ? item.body['entry'] : item.body['spoken']
  if (typeof sound !== 'string' || !sound) return null
  return (
    <Fact name="recording">
      <a href={address(['spoken'], { sound, job: job.value?.id })}>Hear what was said</a>
    </Fact>
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
              {fieldWords(change.field, item.kind)}: <del>{change.from}</del> <ins>{change.to}</ins>.{' '}
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

const MOST_BESIDE = 6

/** Pictures of the same place among the records that are held: a reading is understood with what it was taken from. */
function SamePlace({ item }: { item: Item }) {
  const place = standing(item).place
  const beside = held.value.items.filter((other) => other !== item && picture(other) && standing(other).place === place)
  if (!place || !beside.length) return null
  return (
    <section class="beside" aria-label="Pictures of the same place">
      <h3>Pictures of {placeName(place)}</h3>
      <ul>
        {beside.slice(-MOST_BESIDE).map((other) => (
          <li key={other.id}>
            <button type="button" onClick={() => choose(other)} aria-label={`Exhibit ${other.exhibit}, ${other.title}`}>
              <Thumb item={other} />
              <span class="figure">{other.exhibit}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  )
}

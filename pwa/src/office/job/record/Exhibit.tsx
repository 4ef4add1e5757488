import type { ComponentChildren } from 'preact'
import { Balloon } from '../../../parts/controls/Balloon.tsx'
import { Back, Onward } from '../../../parts/controls/icons.tsx'
import type { Item } from '../../frame/shapes.ts'
import { nameOf, print, wholePrint } from '../../frame/words.ts'
import { Evidence } from './Evidence.tsx'
import { fieldLabel, fieldOrder, fieldWords, isShown, mayBeCorrected, mayBeWithdrawn } from '../../../trade/record/fields.ts'
import { KINDS } from '../../../trade/record/kinds.ts'
import { changesOf, standing } from './fields.ts'
import { kindWords } from './kinds.ts'
import { picture } from '../../frame/picture.ts'
import { placeName } from './places.ts'
import { stageWords } from '../../frame/stages.ts'
import { address } from '../../frame/route.ts'
import { choose, chosen, held, job, step } from './state.ts'
import { Thumb } from '../../frame/Thumb.tsx'
import { Times } from './Times.tsx'
import { say } from '../../frame/say.ts'
import './exhibit.css'

interface Props {
  enlarge: () => void
  answer: (how: 'correct' | 'withdraw') => void
  /** Back to the timeline, where the record in hand covers it (narrow screens). */
  back: () => void
}

/** The record in hand: its picture edge to edge, its sound or its document, then everything known of it. */
export function Exhibit({ enlarge, answer, back }: Props) {
  const item = chosen.value
  if (!item) return <section class="exhibit exhibit-none" aria-label={say('record.in_hand_none')} />
  const index = held.value.items.indexOf(item)
  return (
    <section class="exhibit" aria-label={say('record.in_hand', { number: String(item.exhibit) })}>
      <Evidence item={item} enlarge={enlarge} />
      <div class="exhibit-facts">
        <header class="exhibit-head grid-tops">
          <Balloon number={item.exhibit} solid />
          <h2>{item.title}</h2>
          <nav class="exhibit-steps" aria-label={say('record.steps')}>
            <button type="button" class="exhibit-back" onClick={back}>
              {say('record.record')}
            </button>
            <button
              type="button"
              aria-label={say('record.previous')}
              disabled={index <= 0 && held.value.previous === null}
              onClick={() => step(-1)}
            >
              <Back size={20} />
            </button>
            <button
              type="button"
              aria-label={say('record.next')}
              disabled={index >= held.value.items.length - 1 && held.value.next === null}
              onClick={() => step(1)}
            >
              <Onward size={20} />
            </button>
          </nav>
        </header>
        {item.withdrawn && (
          <p class="exhibit-withdrawn above-5">
            <b>{say('record.withdrawn')}</b> {say('record.withdrawn_by', { number: String(item.withdrawn.exhibit), reason: item.withdrawn.reason })}
          </p>
        )}
        <Times item={item} />
        <Facts item={item} />
        <Corrections item={item} />
        <CorrectedRecord item={item} />
        <SamePlace item={item} />
        {!item.withdrawn && (mayBeCorrected(item.kind) || mayBeWithdrawn(item.kind)) && (
          <div class="acts">
            {mayBeCorrected(item.kind) && (
              <button type="button" onClick={() => answer('correct')}>
                {say('record.correct')}
              </button>
            )}
            {mayBeWithdrawn(item.kind) && (
              <button type="button" onClick={() => answer('withdraw')}>
                {say('record.withdraw')}
              </button>
            )}
          </div>
        )}
      </div>
    </section>
  )
}

function Facts({ item }: { item: Item }) {
  const now = standing(item)
  const readThere = KINDS[item.kind]?.readThere ?? []
  const fields = fieldOrder(item).filter((field) => isShown(item.kind, field, now.body[field]))
  const place = { from: [item.place_name, item.point], to: [now.place && placeName(now.place), now.point] }
  return (
    <dl class="facts">
      <Fact name={say('record.fact_place')} from={place.from.filter(Boolean).join(', ')} to={place.to.filter(Boolean).join(', ')} />
      {fields.map((field) => {
        const text = (v: unknown) => (isEmpty(v) ? '' : fieldWords(item.kind, field, v))
        if (readThere.includes(field) && text(item.body[field]) === text(now.body[field])) return null
        return <Fact key={field} name={fieldLabel(item.kind, field)} from={text(item.body[field])} to={text(now.body[field])} />
      })}
      <SheetOf item={item} procedure={String(now.body['procedure'] ?? '')} state={String(now.body['state'] ?? '')} place={now.place} />
      <RunOf item={item} />
      <SoundOf item={item} />
      <Fact name={say('record.fact_kind')}>
        {item.stage ? say('record.kind_at_stage', { kind: kindWords(item.kind), stage: stageWords(item.stage) }) : kindWords(item.kind)}
      </Fact>
      <Fact name={say('record.fact_by')}>
        {item.device.name ? say('record.author_on', { name: item.author.name, device: item.device.name }) : say('record.author_at_desk', { name: item.author.name })}
      </Fact>
      <Fact name={say('record.fact_fingerprint')}>
        <details class="print">
          <summary>
            <span class="figure">{print(item.hash)}</span>
          </summary>
          <span class="figure">{wholePrint(item.hash)}</span>
        </details>
      </Fact>
      <Fact name={say('record.fact_in_log')}>
        <span class="figure">{say('record.position', { count: item.position })}</span>
      </Fact>
    </dl>
  )
}

/** The way from a reading to its measurement sheet. */
function SheetOf({ item, procedure, state, place }: { item: Item; procedure: string; state: string; place: string }) {
  const open = job.value?.id
  if (KINDS[item.kind]?.view !== 'reading' || !open || item.withdrawn) return null
  return (
    <Fact name={say('record.fact_sheet')}>
      <a href={address(['job', open, 'figures'], { procedure: procedure || 'single_readings', state, place })}>{say('record.to_figures')}</a>
    </Fact>
  )
}

/** The way from a record of a tightening to the joint as it was carried out. */
function RunOf({ item }: { item: Item }) {
  const [open, run] = [job.value?.id, item.body['run']]
  if (!open || typeof run !== 'string' || !run) return null
  return (
    <Fact name={say('record.fact_joint')}>
      <a href={address(['job', open, 'joints'], { run })}>{say('record.to_run')}</a>
    </Fact>
  )
}

/** The way from a record that was spoken, or a transcript, to the recording it came from. */
function SoundOf({ item }: { item: Item }) {
  const sound = KINDS[item.kind]?.about === 'sound' ? item.body['entry'] : item.body['spoken']
  if (typeof sound !== 'string' || !sound) return null
  return (
    <Fact name={say('record.fact_recording')}>
      <a href={address(['spoken'], { sound, job: job.value?.id })}>{say('record.to_recording')}</a>
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

/** The corrections of this record, with reason and name. */
function Corrections({ item }: { item: Item }) {
  if (!item.corrected_by.length) return null
  const changes = changesOf(item, placeName)
  return (
    <section class="corrections above-6" aria-label={say('record.corrections')}>
      <h3>{say('record.correction_count', { count: item.corrected_by.length })}</h3>
      {item.corrected_by.map((correction, index) => (
        <p class="above-2" key={correction.id}>
          {changes[index]!.map((change) => (
            <span key={change.field}>
              {fieldLabel(item.kind, change.field)}: <del>{change.from}</del> <ins>{change.to}</ins>.{' '}
            </span>
          ))}
          “{correction.reason}” <i>{nameOf(correction.by)}</i> {say('record.see', { number: String(correction.exhibit) })}
        </p>
      ))}
    </section>
  )
}

/** The way from a correction or withdrawal to the record it is about. */
function CorrectedRecord({ item }: { item: Item }) {
  const about = item.corrects
  if (!about) return null
  const there = held.value.items.find((other) => other.id === about.id)
  return (
    <p class="speaks above-5">
      {say('record.about')}{' '}
      {there ? (
        <button type="button" class="plain" onClick={() => choose(there)}>
          {about.exhibit}, {there.title}
        </button>
      ) : (
        about.exhibit
      )}
    </p>
  )
}

const MOST_BESIDE = 6

/** Pictures of the same place among the records that are loaded: a reading is understood with the part it was taken from. */
function SamePlace({ item }: { item: Item }) {
  const place = standing(item).place
  const beside = held.value.items.filter((other) => other !== item && picture(other) && standing(other).place === place)
  if (!place || !beside.length) return null
  return (
    <section class="beside above-8" aria-label={say('record.pictures_same_place')}>
      <h3>{say('record.pictures_of', { place: placeName(place) })}</h3>
      <ul class="wraps above-4">
        {beside.slice(-MOST_BESIDE).map((other) => (
          <li key={other.id}>
            <button type="button" onClick={() => choose(other)} aria-label={say('record.other_picture', { number: String(other.exhibit), title: other.title })}>
              <Thumb item={other} />
              <span class="figure">{other.exhibit}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  )
}

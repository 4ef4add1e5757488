import { PageHead } from '../../frame/PageHead.tsx'
import { useState } from 'preact/hooks'
import { Tick } from '../../../parts/controls/icons.tsx'
import { Fault } from '../../frame/Say.tsx'
import { isManager } from '../../frame/session.ts'
import { job, jobTrouble } from '../record/state.ts'
import { STAGES, stageWords } from '../../frame/stages.ts'
import { address } from '../../frame/route.ts'
import type { Job } from '../../frame/shapes.ts'
import { count, dayAndClock, offsetWords, sentence, visit } from '../../frame/words.ts'
import { OwnerPart } from './OwnerPart.tsx'
import { AmendFacts } from './AmendFacts.tsx'

/** What is known of a job beside its record: its facts, its stages, who worked on it, earlier visits of the engine. */
export function Facts() {
  const [amending, setAmending] = useState(false)
  if (jobTrouble.value) return <Fault>{jobTrouble.value.message}</Fault>
  const open = job.value
  if (!open) return <p class="opening">Opening the job.</p>
  return (
    <section class="page facts-page" aria-labelledby="facts-title">
      <PageHead
        id="facts-title"
        title={`Job ${open.number}, ${open.vehicle}`}
        acts={
          <>
            <button type="button" onClick={() => setAmending(true)}>
              Amend the facts
            </button>
          </>
        }
      />
      <div class="facts-sheet">
        <Said open={open} />
        <Visits open={open} />
        <Hands open={open} />
        <OwnerPart job={open.id} />
        <Stages open={open} />
        <Checklist open={open} />
      </div>
      {amending && <AmendFacts open={open} close={() => setAmending(false)} />}
    </section>
  )
}

const UNIT: Record<string, string> = { km: 'km', mi: 'miles', h: 'hours' }

function Said({ open }: { open: Job }) {
  const lines: [string, string, boolean?][] = [
    ['job', open.number, true],
    ['vehicle', open.vehicle],
    ['registration, hull or plant number', open.registration, true],
    ['engine type', open.engine_type_name],
    ['engine number', open.engine_number, true],
    ['distance or hours', open.distance ? `${open.distance} ${UNIT[open.distance_unit] ?? ''}` : '', true],
    ['opened', open.opened ? dayAndClock(open.opened) : ''],
    ['complaint, in the owner’s words', open.complaint],
    ['state on arrival', open.received_as],
  ]
  return (
    <section aria-label="Facts">
      <h2>Facts</h2>
      <dl class="facts facts-wide">
        {lines.map(([name, value, figures]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd class={figures ? 'figure' : undefined}>{value || <span class="soft">not given</span>}</dd>
          </div>
        ))}
      </dl>
    </section>
  )
}

/** The stages as a line of stations: those with records are reached, the present one is filled. */
function Stages({ open }: { open: Job }) {
  const entries = new Map(open.stages.map((stage) => [stage.code, stage.entries]))
  return (
    <section aria-label="Stages">
      <h2>Stages</h2>
      <ol class="stations">
        {STAGES.map(({ code, words }) => {
          const n = entries.get(code) ?? 0
          return (
            <li
              key={code}
              class={code === open.stage ? 'is-now' : n ? 'is-reached' : ''}
              aria-current={code === open.stage ? 'step' : undefined}
            >
              <a href={address(['job', open.id], { stage: code })}>{sentence(words)}</a>
              <span class="soft">{n ? count(n, 'record') : code === open.stage ? 'now' : ''}</span>
            </li>
          )
        })}
      </ol>
    </section>
  )
}

function Checklist({ open }: { open: Job }) {
  const items = open.checklist.filter((item) => item.ticked || item.stage === open.stage)
  if (!items.length) return null
  const stages = [...new Set(items.map((item) => item.stage))]
  return (
    <section aria-label="Checklist">
      <h2>Checklist</h2>
      {stages.map((stage) => (
        <div key={stage}>
          <h3>{sentence(stageWords(stage))}</h3>
          <ul class="checks">
            {items
              .filter((item) => item.stage === stage)
              .map((item) => (
                <li key={item.item} class={item.ticked ? 'is-done' : ''}>
                  <span class="check-box">{item.ticked && <Tick size={20} />}</span>
                  <span>
                    <span class="unseen">{item.ticked ? 'Done: ' : 'Not done: '}</span>
                    {item.words}
                    {item.ticked && item.when && (
                      <span class="soft">
                        {' '}
                        {item.by && `${item.by}, `}
                        {dayAndClock(item.when)}
                      </span>
                    )}
                  </span>
                </li>
              ))}
          </ul>
        </div>
      ))}
    </section>
  )
}

function Visits({ open }: { open: Job }) {
  const others = open.visits.filter((one) => one.job !== open.id)
  return (
    <section aria-label="This engine">
      <h2>This engine</h2>
      <p>
        {open.engine_number ? (
          <>
            Number <span class="figure">{open.engine_number}</span>, {visit(open.earlier_visits)}.
          </>
        ) : (
          'Its number has not been read yet, so earlier visits cannot be found.'
        )}
      </p>
      <ul class="visits">
        {others.map((one) => (
          <li key={one.job}>
            <a href={address(['job', one.job])}>Job {one.number}</a>,{' '}
            {one.opened ? dayAndClock(one.opened) : 'date not known'}
            {one.distance && (
              <>
                , at <span class="figure">{one.distance}</span> {UNIT[one.distance_unit] ?? ''}
              </>
            )}
            {one.complaint && <span class="soft"> {one.complaint}</span>}
          </li>
        ))}
      </ul>
    </section>
  )
}

function Hands({ open }: { open: Job }) {
  return (
    <section aria-label="Who and with what">
      <h2>Who and with what</h2>
      <ul class="hands">
        {open.people.map((person) => (
          <li key={person.id}>
            <a href={address(['job', open.id], { person: person.id })}>{person.name}</a>,{' '}
            {count(person.entries, 'record')}
          </li>
        ))}
      </ul>
      <ul class="hands">
        {open.devices.map((device) => (
          <li key={device.id}>
            <b>{device.name}</b> <span class="soft">{offsetWords(device.clock_offset_ms, 'Its clock')}</span>
          </li>
        ))}
      </ul>
      {!isManager.value && <p class="soft">Phones are let in and shut out by a manager.</p>}
    </section>
  )
}

import { PageHead } from '../../frame/PageHead.tsx'
import { useState } from 'preact/hooks'
import { Tick } from '../../../parts/controls/icons.tsx'
import { FaultNotice } from '../../frame/notices.tsx'
import { isManager } from '../../frame/session.ts'
import { job, jobTrouble } from '../record/state.ts'
import { STAGES, stageWords } from '../../frame/stages.ts'
import { address } from '../../frame/route.ts'
import type { Job } from '../../frame/shapes.ts'
import { dayAndClock, offsetWords, sentence, visit } from '../../frame/words.ts'
import { OwnerPart } from './OwnerPart.tsx'
import { AmendFacts } from './AmendFacts.tsx'
import { say } from '../../frame/say.ts'
import './facts.css'

/** A job's facts beside its record: what it is about, its stages, who worked on it, earlier visits of the engine. */
export function Facts() {
  const [amending, setAmending] = useState(false)
  if (jobTrouble.value) return <FaultNotice>{jobTrouble.value.message}</FaultNotice>
  const open = job.value
  if (!open) return <p class="opening">{say('record.opening')}</p>
  return (
    <section class="page facts-page" aria-labelledby="facts-title">
      <PageHead
        id="facts-title"
        title={say('facts.title', { number: open.number, vehicle: open.vehicle })}
        acts={
          <button type="button" onClick={() => setAmending(true)}>
            {say('facts.amend')}
          </button>
        }
      />
      <div class="facts-sheet columned headed">
        <JobFacts open={open} />
        <Visits open={open} />
        <PeopleAndPhones open={open} />
        <OwnerPart job={open.id} />
        <Stages open={open} />
        <Checklist open={open} />
      </div>
      {amending && <AmendFacts open={open} close={() => setAmending(false)} />}
    </section>
  )
}

const DISTANCE = { km: 'facts.km', mi: 'facts.miles', h: 'facts.hours' } as const

/** "120000 km", the figure as it was typed. */
function distanceWords({ distance, distance_unit }: { distance: string; distance_unit: string }): string {
  if (!distance) return ''
  const sentence = DISTANCE[distance_unit as keyof typeof DISTANCE]
  return sentence ? say(sentence, { distance }) : distance
}

function JobFacts({ open }: { open: Job }) {
  const lines: [string, string, boolean?][] = [
    [say('facts.job'), open.number, true],
    [say('facts.vehicle'), open.vehicle],
    [say('facts.registration'), open.registration, true],
    [say('facts.type'), open.engine_type_name],
    [say('facts.engine'), open.engine_number, true],
    [say('facts.distance'), distanceWords(open), true],
    [say('facts.opened'), open.opened ? dayAndClock(open.opened) : ''],
    [say('facts.complaint'), open.complaint],
    [say('facts.condition'), open.received_as],
  ]
  return (
    <section aria-label={say('facts.facts')}>
      <h2>{say('facts.facts')}</h2>
      <dl class="facts facts-wide">
        {lines.map(([name, value, figures]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd class={figures ? 'figure' : undefined}>{value || <span class="soft">{say('record.not_given')}</span>}</dd>
          </div>
        ))}
      </dl>
    </section>
  )
}

/** The stages on a line: those with records are reached, the present stage is filled. */
function Stages({ open }: { open: Job }) {
  const entries = new Map(open.stages.map((stage) => [stage.code, stage.entries]))
  return (
    <section aria-label={say('facts.stages')}>
      <h2>{say('facts.stages')}</h2>
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
              <span class="soft">{n ? say('record.count', { count: n }) : code === open.stage ? say('facts.now') : ''}</span>
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
    <section aria-label={say('facts.checklist')}>
      <h2>{say('facts.checklist')}</h2>
      {stages.map((stage) => (
        <div key={stage}>
          <h3>{sentence(stageWords(stage))}</h3>
          <ul class="checks">
            {items
              .filter((item) => item.stage === stage)
              .map((item) => (
                <li key={item.item} class={`in-grid${item.ticked ? ' is-done' : ''}`}>
                  <span class="check-box framed">{item.ticked && <Tick size={20} />}</span>
                  <span>
                    <span class="unseen">{item.ticked ? say('facts.done') : say('facts.not_done')} </span>
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
  const others = open.visits.filter(({ job }) => job !== open.id)
  return (
    <section aria-label={say('facts.this_engine')}>
      <h2>{say('facts.this_engine')}</h2>
      <p>
        {open.engine_number
          ? say('facts.number_and_visit', { number: open.engine_number, visit: visit(open.earlier_visits) })
          : say('facts.number_not_read')}
      </p>
      <ul class="visits">
        {others.map((other) => (
          <li key={other.job}>
            <a href={address(['job', other.job])}>{say('facts.other_job', { number: other.number })}</a>,{' '}
            {other.opened ? dayAndClock(other.opened) : say('facts.date_unknown')}
            {other.distance && <>, {say('facts.at_distance', { distance: distanceWords(other) })}</>}
            {other.complaint && <span class="soft"> {other.complaint}</span>}
          </li>
        ))}
      </ul>
    </section>
  )
}

function PeopleAndPhones({ open }: { open: Job }) {
  return (
    <section aria-label={say('facts.people_and_phones')}>
      <h2>{say('facts.people_and_phones')}</h2>
      <ul class="hands">
        {open.people.map((person) => (
          <li key={person.id}>
            <a href={address(['job', open.id], { person: person.id })}>{person.name}</a>,{' '}
            {say('record.count', { count: person.entries })}
          </li>
        ))}
      </ul>
      <ul class="hands">
        {open.devices.map((device) => (
          <li key={device.id}>
            <b>{device.name}</b> <span class="soft">{offsetWords(device.clock_offset_ms, say('facts.its_clock'))}</span>
          </li>
        ))}
      </ul>
      {!isManager.value && <p class="soft">{say('facts.manager_phones')}</p>}
    </section>
  )
}

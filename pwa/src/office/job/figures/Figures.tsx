import { useState } from 'preact/hooks'
import type { Sheet, SheetFigure, SheetPlace } from '../../../trade/sheets/types.ts'
import { EmptyNotice, FaultNotice } from '../../frame/notices.tsx'
import { useGet } from '../../frame/useGet.ts'
import { useKeys } from '../../frame/keys.ts'
import { job, jobTrouble } from '../record/state.ts'
import { address, go, route, set } from '../../frame/route.ts'
import { BudgetSheet } from './Budget.tsx'
import { Compare } from './Compare.tsx'
import { standingOf } from './written.ts'
import { Earlier } from './Earlier.tsx'
import { PrintFrame } from './PrintFrame.tsx'
import { Proposals } from './Proposals.tsx'
import type { JobFigures } from './shapes.ts'
import { SheetView } from './SheetView.tsx'
import { nextPlace, stepInPlace } from './stepping.ts'
import { say } from '../../frame/say.ts'
import './figures.css'

const SIDE_BY_SIDE = 'side_by_side'

/** A sheet's procedure as the address has it; readings outside any procedure have a sheet too. */
function procedureOf({ procedure }: Sheet): string {
  return procedure || 'single_readings'
}

/** The measurement sheets of a job, one procedure and state at a time, over all its cylinders or journals. */
export function Figures({ job: id }: { job: string }) {
  const { data: figures, error } = useGet<JobFigures>(`/api/jobs/${id}/figures`)
  const sheets = figures?.sheets ?? []
  const procedure = route.value.values['procedure'] ?? (sheets[0] && procedureOf(sheets[0])) ?? ''
  const states = sheets.filter((sheet) => procedureOf(sheet) === procedure)
  const sheet = states.find((sheet) => sheet.state === route.value.values['state']) ?? states[0]
  const codes = [...new Set(sheets.map(procedureOf))]
  const turnTo = (by: number) => {
    const next = codes[(codes.indexOf(procedure) + by + codes.length) % codes.length]
    if (next) set({ procedure: next, state: undefined, place: undefined }, true)
  }
  useKeys({
    ArrowRight: () => sheet && nextPlace(sheet, 1),
    ArrowLeft: () => sheet && nextPlace(sheet, -1),
    ArrowDown: () => stepInPlace(1),
    ArrowUp: () => stepInPlace(-1),
    '[': () => turnTo(-1),
    ']': () => turnTo(1),
    p: () => print(),
    r: () => go(['job', id]),
  })
  if (jobTrouble.value) return <FaultNotice>{jobTrouble.value.message}</FaultNotice>
  if (error && !figures) return <FaultNotice>{error.message}</FaultNotice>
  if (!figures) return <p class="opening">{say('figures.opening')}</p>
  return sheet ? <OpenSheet job={id} figures={figures} sheet={sheet} states={states} /> : <NoFigures />
}

function NoFigures() {
  return (
    <section class="page" aria-label={say('figures.title')}>
      <h1 class="headline">{job.value ? say('figures.title_of_job', { number: job.value.number }) : say('figures.title')}</h1>
      <EmptyNotice>{say('figures.none_yet')}</EmptyNotice>
    </section>
  )
}

interface OpenSheetProps {
  job: string
  figures: JobFigures
  sheet: Sheet
  /** The sheets of the same procedure, one for each state of the part. */
  states: Sheet[]
}

/** One sheet in its print frame, or its states side by side; below, proposals and earlier visits. */
function OpenSheet({ job: id, figures, sheet, states }: OpenSheetProps) {
  const [explained, setExplained] = useState<{ place: SheetPlace; figure: SheetFigure } | null>(null)
  const { sheets } = figures
  const { state = '', place = '' } = route.value.values
  const compared = state === SIDE_BY_SIDE && states.length > 1
  const number = sheets.indexOf(sheet) + 1
  return (
    <PrintFrame
      sheet={say('figures.sheet_of', { name: sheet.name, state: sheet.state_words, number, count: sheets.length })}
      rule={sheet.rule_words.split(':')[0]!}
    >
      <section class={`figures-page${isTall(sheet) ? ' is-tall' : ''}`} aria-labelledby="figures-title">
        <Procedures job={id} sheets={sheets} procedure={procedureOf(sheet)} />
        <header class="figures-head along wrapped below-4">
          <h1 class="headline" id="figures-title">
            {sheet.name}, {compared ? say('figures.side_by_side') : sheet.state_words}
          </h1>
          {states.length > 1 && <States states={states} shown={compared ? SIDE_BY_SIDE : sheet.state} />}
          <Exports job={id} />
        </header>
        {compared ? (
          <Compare job={id} sheets={states} />
        ) : (
          <SheetView
            job={id}
            sheet={sheet}
            at={place}
            explain={(at: SheetPlace, figure: SheetFigure) => setExplained({ place: at, figure })}
          />
        )}
        <Proposals job={id} sheets={sheets} proposals={figures.proposals} of={sheet} />
        <Earlier visits={figures.wear.filter((visit) => visit.procedure === sheet.procedure)} sheet={sheet} />
      </section>
      {explained && <BudgetSheet job={id} sheet={sheet} {...explained} close={() => setExplained(null)} />}
    </PrintFrame>
  )
}

/** The procedures that have figures on this job. */
function Procedures({ job: id, sheets, procedure }: { job: string; sheets: Sheet[]; procedure: string }) {
  const codes = [...new Set(sheets.map(procedureOf))]
  return (
    <nav class="figures-tabs wraps below-4" aria-label={say('figures.procedures')}>
      {codes.map((code) => {
        const own = sheets.filter((sheet) => procedureOf(sheet) === code)
        return (
          <a key={code} href={address(['job', id, 'figures'], { procedure: code })} aria-current={code === procedure ? 'page' : undefined}>
            <TabMark sheets={own} />
            {own[0]!.name}
          </a>
        )
      })}
    </nav>
  )
}

function Exports({ job: id }: { job: string }) {
  return (
    <div class="figures-acts along">
      <a href={`/api/jobs/${id}/figures.csv`} download>
        {'CSV'}
      </a>
      <a href={`/api/jobs/${id}/figures.json`} download>
        {'JSON'}
      </a>
      <button type="button" class="plain" onClick={() => print()} aria-keyshortcuts="p">
        {say('figures.print')}
      </button>
    </div>
  )
}

/** A mark before a procedure's name where something lies outside its limits or is not proven. */
function TabMark({ sheets }: { sheets: Sheet[] }) {
  const all = sheets.flatMap(({ places }) => places.map(({ figures }) => standingOf(figures)))
  const worst = (['outside', 'not proven'] as const).find((standing) => all.includes(standing))
  if (!worst) return null
  return (
    <span class={`tab-mark is-${worst.replace(' ', '-')}`}>
      <span class="unseen">{worst === 'outside' ? say('figures.mark_outside') : say('figures.mark_not_proven')}</span>
    </span>
  )
}

/** Rings, sections and figures together fill a printed page: then what follows from them is printed first. */
function isTall({ axes, places }: Sheet): boolean {
  return axes.length > 1 && (places[0]?.figures.length ?? 0) > 2
}

function States({ states, shown }: { states: Sheet[]; shown: string }) {
  const choices = [...states.map(({ state, state_words }) => [state, state_words]), [SIDE_BY_SIDE, say('figures.side_by_side')]]
  return (
    <div class="figures-states segments ring-inside" role="group" aria-label={say('figures.state')}>
      {choices.map(([code, words]) => (
        <button key={code} type="button" aria-pressed={code === shown} onClick={() => set({ state: code }, true)}>
          {words}
        </button>
      ))}
    </div>
  )
}

import { useState } from 'preact/hooks'
import type { Sheet, SheetFigure, SheetPlace } from '../../../trade/sheets/types.ts'
import { Empty, Fault } from '../../frame/Say.tsx'
import { useAsk } from '../../frame/useAsk.ts'
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

const SIDE_BY_SIDE = 'side_by_side'

/** How a sheet's procedure stands in the address; readings outside any procedure have a sheet too. */
function named({ procedure }: Sheet): string {
  return procedure || 'single_readings'
}

/** The measurement sheets of a job, one procedure and state at a time, over all its cylinders or journals. */
export function Figures({ job: id }: { job: string }) {
  const { told, trouble } = useAsk<JobFigures>(`/api/jobs/${id}/figures`)
  const [asked, setAsked] = useState<{ place: SheetPlace; figure: SheetFigure } | null>(null)
  const sheets = told?.sheets ?? []
  const { procedure = sheets[0] && named(sheets[0]), state = '', place = '' } = route.value.values
  const states = sheets.filter((one) => named(one) === procedure)
  const sheet = states.find((one) => one.state === state) ?? states[0]
  const beside = state === SIDE_BY_SIDE && states.length > 1
  const codes = [...new Set(sheets.map(named))]
  const turnTo = (by: number) => {
    const next = codes[(codes.indexOf(procedure ?? '') + by + codes.length) % codes.length]
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
  if (jobTrouble.value) return <Fault>{jobTrouble.value.message}</Fault>
  if (trouble && !told) return <Fault>{trouble.message}</Fault>
  if (!told) return <p class="opening">Working out the figures.</p>
  if (!sheet)
    return (
      <section class="page" aria-label="Figures">
        <h1 class="page-alone">Figures{job.value && `, job ${job.value.number}`}</h1>
        <Empty>
          Nothing has been measured by a procedure on this job yet. Choose a procedure on the phone under ‘Measure’, or add a
          reading here: in the record, press a and choose ‘Reading’.
        </Empty>
      </section>
    )
  return (
    <PrintFrame
      sheet={`${sheet.name}, ${sheet.state_words}; ${sheets.indexOf(sheet) + 1} of ${sheets.length}`}
      rule={sheet.rule_words.split(':')[0]!}
    >
      <section class={`figures-page${isTall(sheet) ? ' is-tall' : ''}`} aria-labelledby="figures-title">
        <nav class="figures-tabs" aria-label="Procedures">
          {codes.map((code) => (
            <a
              key={code}
              href={address(['job', id, 'figures'], { procedure: code })}
              aria-current={code === procedure ? 'page' : undefined}
            >
              <Standing of={sheets.filter((one) => named(one) === code)} />
              {sheets.find((one) => named(one) === code)!.name}
            </a>
          ))}
        </nav>
        <header class="figures-head">
          <h1 id="figures-title">
            {sheet.name}, {beside ? 'side by side' : sheet.state_words}
          </h1>
          {states.length > 1 && <States states={states} shown={beside ? SIDE_BY_SIDE : sheet.state} />}
          <div class="figures-acts">
            <a href={`/api/jobs/${id}/figures.csv`} download>
              CSV
            </a>
            <a href={`/api/jobs/${id}/figures.json`} download>
              JSON
            </a>
            <button type="button" class="plain" onClick={() => print()} aria-keyshortcuts="p">
              Print
            </button>
          </div>
        </header>
        {beside ? (
          <Compare job={id} sheets={states} />
        ) : (
          <SheetView
            job={id}
            sheet={sheet}
            at={place}
            ask={(at: SheetPlace, figure: SheetFigure) => setAsked({ place: at, figure })}
          />
        )}
        <Proposals job={id} sheets={sheets} proposals={told.proposals} of={sheet} />
        <Earlier visits={told.wear.filter((one) => one.procedure === sheet.procedure)} sheet={sheet} />
      </section>
      {asked && <BudgetSheet job={id} sheet={sheet} {...asked} close={() => setAsked(null)} />}
    </PrintFrame>
  )
}

/** A mark before a procedure's name where something lies outside its limits or is not proven. */
function Standing({ of: sheets }: { of: Sheet[] }) {
  const all = sheets.flatMap(({ places }) => places.map(({ figures }) => standingOf(figures)))
  const standing = (['outside', 'not proven'] as const).find((one) => all.includes(one))
  if (!standing) return null
  return (
    <span class={`tab-mark is-${standing.replace(' ', '-')}`}>
      <span class="unseen">{standing === 'outside' ? 'outside limits: ' : 'not proven: '}</span>
    </span>
  )
}

/** Rings, sections and figures together fill a printed page: then what follows from them is printed first. */
function isTall({ axes, places }: Sheet): boolean {
  return axes.length > 1 && (places[0]?.figures.length ?? 0) > 2
}

function States({ states, shown }: { states: Sheet[]; shown: string }) {
  return (
    <div class="figures-states" role="group" aria-label="State">
      {[...states.map((one) => [one.state, one.state_words] as const), [SIDE_BY_SIDE, 'side by side'] as const].map(
        ([code, words]) => (
          <button key={code} type="button" aria-pressed={code === shown} onClick={() => set({ state: code }, true)}>
            {words}
          </button>
        ),
      )}
    </div>
  )
}

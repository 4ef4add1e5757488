// What a tightening sheet waits on before a run may be closed: figures measured within their limits, items ticked. The twin
// of trade/tightening/holds.py.

import { covers } from '../measuring/limits.ts'
import { itemWords, stageWords } from '../engine/stages.ts'
import { subject } from '../measuring/procedure_words.ts'
import type { Hold, TighteningSheet } from './sheets.ts'
import { say } from '../ground/say.ts'
import { listed } from '../ground/sentences.ts'

/** What is read of a figure and of a measurement sheet (trade/sheets). */
interface Figure {
  code: string
  value: string | null
  now: { standing: string }[]
}
interface Sheet {
  procedure: string
  state: string
  places: { place: string; name: string; figures: Figure[] }[]
}

// Of a part that was measured in several states the last one counts.
const LAST_STATES = ['built', 'machined', 'as_found']
type Measured = Extract<Hold, { sort: 'measured' }>
type Place = { name: string; figure: Figure | null }
/** Standing of a figure -> the sentence that names the places where it stands so. */
const AT = {
  not_measured: 'tightening.not_measured_at',
  'no limit': 'tightening.no_limit_at',
  outside: 'tightening.outside_at',
  'not proven': 'tightening.not_proven_at',
} as const

/**
 * A sentence for each condition that is not yet met. `measured` are the job's measurement sheets, `ticked` the items of
 * its checklists that are done: "build/which_way".
 */
export function openHolds(
  sheet: Pick<TighteningSheet, 'holds'>,
  measured: Sheet[],
  ticked: Iterable<string>,
): string[] {
  const done = new Set(ticked)
  return sheet.holds.flatMap((hold) => {
    if (hold.sort === 'measured') return unmeasured(hold, measured)
    if (done.has(`${hold.stage}/${hold.item}`)) return []
    return [say('tightening.not_ticked', { stage: stageWords(hold.stage), item: itemWords(hold.stage, hold.item) })]
  })
}

function unmeasured(hold: Measured, measured: Sheet[]): string[] {
  const about = subject(hold, 'figures', 'figure')
  const places = [...placesOf(hold, measured).values()]
  if (!places.some((place) => place.figure)) return [say('tightening.not_measured', { figure: about })]
  return Object.entries(AT).flatMap(([how, key]) => {
    const names = places.filter((place) => standing(place.figure) === how).map((place) => place.name)
    return names.length ? [say(key, { figure: about, places: listed(names) })] : []
  })
}

/** Of each place its name, and the figure in the last state that it has a value in. */
function placesOf(hold: Measured, measured: Sheet[]): Map<string, Place> {
  const places = new Map<string, Place>()
  for (const state of LAST_STATES) {
    for (const sheet of measured) {
      if (sheet.procedure !== hold.procedure || sheet.state !== state) continue
      for (const row of sheet.places.filter((candidate) => covers(hold.where, candidate.place))) {
        const known = places.get(row.place)
        const had = row.figures.find((figure) => figure.code === hold.figure && figure.value !== null)
        places.set(row.place, { name: known?.name ?? row.name, figure: known?.figure ?? had ?? null })
      }
    }
  }
  return places
}

function standing(figure: Figure | null): string {
  if (!figure) return 'not_measured'
  const standings = figure.now.map((verdict) => verdict.standing)
  if (!standings.length) return 'no limit'
  return ['outside', 'not proven'].find((how) => standings.includes(how)) ?? 'within'
}

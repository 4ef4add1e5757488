// Shims in words: for valve clearances, and under rocker mountings for the preload of hydraulic tappets. The twin of
// trade/shim_proposal.py.

import { type Amount, type Asked, given, proposal } from './parts.ts'
import type { Proposal } from './types.ts'
import type { SheetPlace } from '../sheets/types.ts'
import { FORMULA, type Shim, shims, type Valve } from './shims.ts'

const CAUTIONS = [
  'Measure each shim: its number may be worn off or wrong.',
  'Turn the engine by the crankshaft until the lobe points away, then measure again with the new shims in.',
]
const PRELOAD_FORMULA = 'shim = (preload - target) x lever factor of the rocker mounting'
const PRELOAD_CAUTIONS = ['Let the tappets leak down before turning the engine, or a valve can meet a piston.']

interface Found {
  place: SheetPlace
  gap: Amount
  shim: Amount
}

/** One proposal for all valves: where a shim stays, where one moves over from another valve, where a new one is due. */
export function proposals(asked: Asked): Proposal[] {
  const found = new Map<string, Found>()
  const valves: Valve[] = []
  const targets = new Map<string, Amount>()
  for (const place of asked.sheet.places) {
    const [gap, shim] = [asked.reading(place, 'gap'), asked.reading(place, 'shim')]
    const target = asked.single('target', place.place)
    if (!gap || !shim || !target) continue
    found.set(place.place, { place, gap, shim })
    valves.push({ place: place.place, gap: gap.si, shim: shim.si, target: target.si })
    targets.set(target.text, target)
  }
  const thicknesses = asked.size('set')
  if (!valves.length || !thicknesses.length) return []
  const made = shims(valves, thicknesses.map((one) => one.si))
  const fresh = made.filter((one) => one.source === 'new').length
  const stay = made.filter((one) => one.source === 'stays').length
  return [
    proposal(
      'shim',
      `${asked.sheet.name}: new shims ${fresh}, moved ${made.length - fresh - stay}, staying ${stay}`,
      made.map((one) => lineOf(one, found)),
      FORMULA,
      {
        inputs: [
          ...given('gap wanted', [...targets.values()]),
          ...given('shims that can be had', thicknesses),
          ...[...found.values()].map(({ place, gap, shim }) => ({
            name: place.name,
            value: `gap ${gap.text}, shim ${shim.text}`,
            source: gap.source,
          })),
        ],
        cautions: CAUTIONS,
      },
    ),
  ]
}

function lineOf(one: Shim, found: Map<string, Found>): string {
  const { place, gap, shim } = found.get(one.place)!
  const chosen = shim.say(one.chosen)
  let what = `${chosen}, new`
  if (one.source === 'stays') what = `${shim.text} stays`
  else if (one.source !== 'new') what = `${chosen}, from ${found.get(one.source)!.place.name}`
  const short = one.reached ? '' : ` The set does not reach ${shim.say(one.wanted)}.`
  return `${place.name}: ${what}; gap then ${gap.say(one.gap)}.${short}`
}

/** Shims under the rocker mountings, from the figures of the procedure for tappet preload. */
export function preload(asked: Asked): Proposal[] {
  if (asked.sheet.procedure !== 'tappet_preload') return []
  const lines = asked.sheet.places.flatMap((place) => {
    const one = asked.figure(place, 'shim')
    if (!one) return []
    if (one.si.over === 0n) return [`${place.name}: nothing to change.`]
    const size = one.say({ ...one.si, over: one.si.over < 0n ? -one.si.over : one.si.over })
    return [`${place.name}: ${one.si.over > 0n ? 'a shim of' : 'to come off'} ${size}.`]
  })
  if (!lines.length) return []
  const inputs = [
    ...given('preload wanted', [asked.single('target')]),
    ...given('lever factor of the rocker mounting', [asked.single('lever')]),
  ]
  const title = `${asked.sheet.name}: shims under the rocker mountings`
  return [proposal('preload', title, lines, PRELOAD_FORMULA, { inputs, cautions: PRELOAD_CAUTIONS })]
}

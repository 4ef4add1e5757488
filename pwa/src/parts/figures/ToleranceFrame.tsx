import type { ComponentChildren } from 'preact'
import { say } from '../words/say.ts'
import './tolerance.css'

export type Characteristic = 'roundness' | 'cylindricity' | 'flatness' | 'straightness' | 'run-out' | 'parallelism' | 'symmetry'

const NAMES = {
  roundness: 'tolerance.roundness',
  cylindricity: 'tolerance.cylindricity',
  flatness: 'tolerance.flatness',
  straightness: 'tolerance.straightness',
  'run-out': 'tolerance.run_out',
  parallelism: 'tolerance.parallelism',
  symmetry: 'tolerance.symmetry',
} as const

// The signs of ISO 1101, as shapes: no font can be trusted to have them.
const SIGNS: Record<Characteristic, ComponentChildren> = {
  roundness: <circle cx="9" cy="9" r="5.6" />,
  cylindricity: (
    <>
      <circle cx="9" cy="9" r="4" />
      <path d="M3 15.2 6.6 3M11.4 15 15 2.8" />
    </>
  ),
  flatness: <path d="M2.4 13.4h9.4l3.8-8.8H6.2Z" />,
  straightness: <path d="M2.5 9h13" />,
  'run-out': (
    <>
      <path d="M3.5 14.5 13 5" />
      <path class="solid" d="m14.8 3.2-1.6 5.1-3.5-3.5Z" />
    </>
  ),
  parallelism: <path d="M4.4 15 9.4 3M8.8 15l5-12" />,
  symmetry: <path d="M3 9h12M5.5 5.4h7M5.5 12.6h7" />,
}

/** The sign a figure bears, from its code; null for a plain size, whose limits are written as a dimension. */
export function characteristicOf(figure: string): Characteristic | null {
  if (/oval|round/.test(figure)) return 'roundness'
  if (/taper|barrel|hourglass|cylindric/.test(figure)) return 'cylindricity'
  if (/flat|largest_gap|face_gap/.test(figure)) return 'flatness'
  if (/run_?out|tir/.test(figure)) return 'run-out'
  if (/^bend|straight/.test(figure)) return 'straightness'
  if (/twist|parallel/.test(figure)) return 'parallelism'
  if (/offset|centring/.test(figure)) return 'symmetry'
  return null
}

/** A tolerance indicator as on a drawing: the sign and the value in a divided frame. */
export function ToleranceFrame({ sign, value, unit }: { sign: Characteristic; value: string; unit: string }) {
  return (
    <span class="tolerance one-line">
      <span class="tolerance-sign centred">
        <svg class="hollow" viewBox="0 0 18 18" width="18" height="18" aria-hidden="true">
          {SIGNS[sign]}
        </svg>
        <span class="unseen">{say(NAMES[sign])} </span>
      </span>
      <span class="tolerance-value figure">
        {value}
        <span class="unseen"> {unit}</span>
      </span>
    </span>
  )
}

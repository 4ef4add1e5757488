import type { ComponentChildren } from 'preact'
import { Ring } from './icons.tsx'
import { say } from '../words/say.ts'
import './said.css'

/** Where a part of what stands in the frame comes from. */
export type From = 'spoken' | 'screen' | 'hand'

export interface SpokenCell {
  label: string
  /** '' while it is missing. */
  words: string
  /** What to ask for while it is missing: 'which unit?' */
  ask?: string
  from?: From
  figure?: boolean
  /** There is something against it: shown in the frame. */
  wrong?: boolean
  /** What touching it does, for the ear; and its sign, for the eye. */
  does?: string
  sign?: ComponentChildren
  onOpen?: () => void
}

/**
 * What was understood, in a divided frame as a drawing has for a tolerance: a compartment for each part, and an open
 * ring where one is still wanted. Each opens to be put right.
 */
export function SpokenFrame({ cells, name }: { cells: SpokenCell[]; name: string }) {
  return (
    <div class="said-frame" role="group" aria-label={name}>
      {cells.map((cell) => (
        <Compartment key={`${cell.label} ${cell.figure || !cell.sign ? '' : cell.words}`} {...cell} />
      ))}
    </div>
  )
}

const FROM = { spoken: 'spoken.spoken', screen: 'spoken.from_screen', hand: 'spoken.by_hand' } as const

// More digits than this are written smaller, so that they stand in one line.
const MOST = 6

function Compartment({ label, words, ask = '', from, figure, wrong, does = say('spoken.change'), sign, onOpen }: SpokenCell) {
  const kind = `said-cell${figure ? ' is-figure' : ''}${words ? '' : ' is-wanted'}${wrong ? ' is-wrong' : ''}${from === 'screen' ? ' is-screen' : ''}${sign ? ' has-sign' : ''}${figure && words.length > MOST ? ' is-long' : ''}`
  const inside = (
    <>
      <span class="cell-label">
        {label}
        {words && from ? <span class="said-from">, {say(FROM[from])}</span> : null}
      </span>{' '}
      <span class={figure ? 'said-words figure' : 'said-words'}>
        {words || (
          <>
            <Ring size={18} /> {ask}
          </>
        )}
      </span>
    </>
  )
  return onOpen ? (
    <button type="button" class={kind} onClick={onOpen}>
      {inside}
      {sign}
      <span class="unseen">, {does}</span>
    </button>
  ) : (
    <div class={kind}>{inside}</div>
  )
}

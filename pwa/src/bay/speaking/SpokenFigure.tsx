import { useState } from 'preact/hooks'
import { FigureKeys } from '../../parts/controls/FigureKeys.tsx'
import { SaidFrame, type From, type SaidCell } from '../../parts/controls/SaidFrame.tsx'
import { Cross } from '../../parts/controls/icons.tsx'
import { Act } from '../frame/Frame.tsx'
import { UnitSheet } from '../../parts/controls/UnitSheet.tsx'
import { choicesOf, type Part, unitFits, withValue } from './spoken.ts'
import type { Spoken } from './useSpoken.ts'

export interface SpokenFigureProps {
  spoken: Spoken
  /** In words; '' while it is not known. */
  place: string
  placeLabel?: string
  what: string
  /** The compartment of what is measured is left out where the screen is for one thing only. */
  hidden?: 'quantity'
  units: string[]
  /** What is usually measured there, to choose from while nothing was named. */
  whats?: { value: string; words: string }[]
  wants: Part[]
  /** What is odd about the figure, before it is kept. */
  warning: string
  /** Why it cannot be kept here at all. */
  fault: string
  onPlace?: () => void
  onWhat?: () => void
}

/** A figure as it was understood: every part can be put right, a missing one is asked for, nothing is kept by itself. */
export function SpokenFigure(props: SpokenFigureProps) {
  const { spoken, units, wants, warning, fault } = props
  const [opened, setOpened] = useState<'' | 'keys' | 'unit'>('')
  const proposal = spoken.proposal!
  const choices = choicesOf(proposal)
  const setUnit = (unit: string) => spoken.change('unit', (before) => ({ ...before, unit }))
  const setValue = (value: string) => spoken.change('value', (before) => withValue(before, value))
  const setWhat = (quantity: string) => spoken.change('quantity', (before) => ({ ...before, quantity }))
  const from = (part: Part, said: boolean): From => (spoken.hand.has(part) ? 'by hand' : said ? 'said' : 'screen')
  const cells: SaidCell[] = [
    { label: props.placeLabel ?? 'place', words: props.place, ask: 'where?', from: from('place', proposal.place_spoken), onOpen: props.onPlace, wrong: Boolean(fault) },
  ]
  if (props.hidden !== 'quantity')
    cells.push({ label: 'what', words: props.what, ask: 'which?', from: from('quantity', proposal.quantity_spoken), onOpen: props.onWhat })
  const counted = units.length === 1 && units[0] === ''
  cells.push({
    label: 'figure',
    words: choices.length ? '' : proposal.value,
    ask: 'which?',
    from: from('value', true),
    figure: true,
    onOpen: () => setOpened(opened === 'keys' ? '' : 'keys'),
  })
  if (!counted)
    cells.push({
      label: 'unit',
      words: fault || unitFits(proposal.unit, units) ? proposal.unit || 'count' : '',
      ask: 'which?',
      from: from('unit', true),
      onOpen: () => setOpened('unit'),
    })
  const aloud = cells.map((one) => one.words || `${one.label} is missing`).join(', ')
  return (
    <>
      <p class="unseen" role="status">
        Understood: {aloud}. Nothing of it is recorded yet.
      </p>
      <SaidFrame cells={cells} name="As it was understood" />
      {fault && (
        <p class="said-warning" role="alert">
          {fault}
        </p>
      )}
      {warning && !fault && (
        <p class="said-warning" role="alert">
          {warning}
        </p>
      )}
      {opened === 'keys' ? (
        <FigureKeys value={choices.length ? '' : proposal.value} onValue={setValue} unit={proposal.unit} onUnit={() => setOpened('unit')} />
      ) : choices.length ? (
        <Choices name="Which figure is it?" options={choices.map(figure)} onChoose={setValue} other={['Another', () => setOpened('keys')]} />
      ) : wants.includes('quantity') && props.whats ? (
        <Choices name="What is it of?" options={props.whats} onChoose={setWhat} other={props.onWhat && ['Other', props.onWhat]} />
      ) : wants.includes('unit') && units.length ? (
        <Choices name={proposal.unit ? `${proposal.unit} is no unit for this. Which is it?` : 'Which unit?'} options={units.map(figure)} onChoose={setUnit} />
      ) : null}
      <Heard words={spoken.heard?.heard ?? ''} />
      {opened === 'unit' && <UnitSheet units={units} now={proposal.unit} onChoose={setUnit} onClose={() => setOpened('')} />}
    </>
  )
}

/** The words themselves, small: whoever doubts a compartment sees what it was made of. */
export function Heard({ words }: { words: string }) {
  return <p class="said-heard small">heard: {words}</p>
}

interface Option {
  value: string
  words: string
  figure?: boolean
}

const figure = (value: string): Option => ({ value, words: value || 'count', figure: true })

interface ChoicesProps {
  name: string
  options: Option[]
  onChoose: (value: string) => void
  other?: [words: string, act: () => void]
}

/** What is asked for, one touch each. */
function Choices({ name, options, onChoose, other }: ChoicesProps) {
  return (
    <div class="said-choices" role="group" aria-label={name}>
      <p class="small">{name}</p>
      <div>
        {options.map((one) => (
          <button key={one.value} type="button" class={one.figure ? 'figure' : ''} onClick={() => onChoose(one.value)}>
            {one.words}
          </button>
        ))}
        {other && (
          <button type="button" onClick={other[1]}>
            {other[0]}
          </button>
        )}
      </div>
    </div>
  )
}

export interface SpokenActsProps {
  spoken: Spoken
  ready: boolean
  busy: boolean
  /** A warning stands above it. */
  odd?: boolean
  name?: string
  onRecord: () => void
}

/** The acts while something is proposed: only the main one makes a record of it. */
export function SpokenActs({ spoken, ready, busy, odd, name = 'Record it', onRecord }: SpokenActsProps) {
  return (
    <>
      <Act name="Not so" small sign={<Cross size={26} />} onAct={spoken.putAway} />
      <Act name={busy ? 'Saving' : odd ? `${name} as it is` : name} main off={busy || !ready} onAct={onRecord} />
    </>
  )
}

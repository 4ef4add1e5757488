import { useState } from 'preact/hooks'
import { FigureKeys } from '../parts/FigureKeys.tsx'
import { SaidFrame, type From, type SaidCell } from '../parts/SaidFrame.tsx'
import { Cross } from '../parts/icons.tsx'
import { Act } from './Frame.tsx'
import { UnitSheet } from './GridWith.tsx'
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
  const from = (part: Part, said: boolean): From => (spoken.hand.has(part) ? 'by hand' : said ? 'said' : 'screen')
  const cells: SaidCell[] = [
    { label: props.placeLabel ?? 'place', words: props.place, ask: 'where?', from: from('place', proposal.place_spoken), onOpen: props.onPlace, wrong: Boolean(fault) },
  ]
  if (props.hidden !== 'quantity')
    cells.push({ label: 'what', words: props.what, ask: 'what of it?', from: from('quantity', proposal.quantity_spoken), onOpen: props.onWhat })
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
      words: unitFits(proposal.unit, units) ? proposal.unit || 'count' : '',
      ask: 'which?',
      from: from('unit', true),
      onOpen: () => setOpened('unit'),
    })
  return (
    <>
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
        <Choices name="Which figure is it?" options={choices} onChoose={setValue} other={() => setOpened('keys')} />
      ) : wants.includes('unit') ? (
        <Choices name={proposal.unit ? `${proposal.unit} is no unit for this. Which is it?` : 'Which unit?'} options={units} onChoose={setUnit} />
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

function Choices({ name, options, onChoose, other }: { name: string; options: string[]; onChoose: (one: string) => void; other?: () => void }) {
  return (
    <div class="said-choices" role="group" aria-label={name}>
      <p class="small">{name}</p>
      <div>
        {options.map((one) => (
          <button key={one} type="button" class="figure" onClick={() => onChoose(one)}>
            {one || 'count'}
          </button>
        ))}
        {other && (
          <button type="button" onClick={other}>
            Another
          </button>
        )}
      </div>
    </div>
  )
}

/** The acts while something is proposed: only the main one makes a record of it. */
export function SpokenActs({ spoken, ready, busy, odd, name = 'Record it', onRecord }: { spoken: Spoken; ready: boolean; busy: boolean; odd?: boolean; name?: string; onRecord: () => void }) {
  return (
    <>
      <Act name="Not so" small sign={<Cross size={26} />} onAct={spoken.putAway} />
      <Act name={busy ? 'Saving' : odd ? `${name} as it is` : name} main off={busy || !ready} onAct={onRecord} />
    </>
  )
}

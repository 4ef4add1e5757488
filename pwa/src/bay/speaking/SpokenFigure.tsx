import { useState } from 'preact/hooks'
import { FigureKeys } from '../../parts/controls/FigureKeys.tsx'
import { SpokenFrame, type From, type SpokenCell } from '../../parts/controls/SpokenFrame.tsx'
import { Cross } from '../../parts/controls/icons.tsx'
import { Act } from '../frame/Frame.tsx'
import { UnitSheet } from '../../parts/controls/UnitSheet.tsx'
import { choicesOf, type Part, unitFits, withValue } from './spoken.ts'
import type { Spoken } from './useSpoken.ts'
import { say } from '../frame/say.ts'

export interface SpokenFigureProps {
  spoken: Spoken
  /** In words; '' while it is not known. */
  place: string
  placeLabel?: string
  what: string
  /** The compartment of what is measured is left out where the screen is for one thing only. */
  hidden?: 'quantity'
  units: string[]
  /** What is usually measured there, to choose from while none was named. */
  whats?: { value: string; words: string }[]
  wants: Part[]
  /** What is odd about the figure, before it is saved. */
  warning: string
  /** Why it cannot be saved here at all. */
  fault: string
  onPlace?: () => void
  onWhat?: () => void
}

type Opened = '' | 'keys' | 'unit'

/** A figure as it was understood: every part can be put right, a missing one is asked for, nothing is saved by itself. */
export function SpokenFigure(props: SpokenFigureProps) {
  const { spoken, warning, fault } = props
  const [opened, setOpened] = useState<Opened>('')
  const cells = cellsOf(props, (what) => setOpened(what === opened ? '' : what))
  const aloud = cells.map((cell) => cell.words || say('speaking.missing', { part: cell.label })).join(', ')
  const setUnit = (unit: string) => spoken.change('unit', (before) => ({ ...before, unit }))
  return (
    <>
      <p class="unseen" role="status">
        {say('speaking.understood_aloud', { words: aloud })}
      </p>
      <SpokenFrame cells={cells} name={say('speaking.as_understood')} />
      {fault && (
        <p class="said-warning bold washed close-set" role="alert">
          {fault}
        </p>
      )}
      {warning && !fault && (
        <p class="said-warning bold washed close-set" role="alert">
          {warning}
        </p>
      )}
      <Wanted {...props} opened={opened} onOpen={setOpened} onUnit={setUnit} />
      <Heard words={spoken.heard?.heard ?? ''} />
      {opened === 'unit' && <UnitSheet units={props.units} now={spoken.proposal!.unit} onChoose={setUnit} onClose={() => setOpened('')} />}
    </>
  )
}

/** The compartments of the frame: place, what is measured, figure and unit, each with where it comes from. */
function cellsOf(props: SpokenFigureProps, onOpen: (what: Opened) => void): SpokenCell[] {
  const { spoken, units, fault } = props
  const proposal = spoken.proposal!
  const from = (part: Part, named: boolean): From => (spoken.hand.has(part) ? 'hand' : named ? 'spoken' : 'screen')
  const which = say('speaking.which')
  const cells: SpokenCell[] = [
    { label: props.placeLabel ?? say('common.place'), words: props.place, ask: say('speaking.where'), from: from('place', proposal.place_spoken), onOpen: props.onPlace, wrong: Boolean(fault) },
  ]
  if (props.hidden !== 'quantity')
    cells.push({ label: say('speaking.what'), words: props.what, ask: which, from: from('quantity', proposal.quantity_spoken), onOpen: props.onWhat })
  cells.push({
    label: say('speaking.figure'),
    words: choicesOf(proposal).length ? '' : proposal.value,
    ask: which,
    from: from('value', true),
    figure: true,
    onOpen: () => onOpen('keys'),
  })
  const counted = units.length === 1 && units[0] === ''
  if (!counted)
    cells.push({
      label: say('speaking.unit'),
      words: fault || unitFits(proposal.unit, units) ? proposal.unit || say('common.count') : '',
      ask: which,
      from: from('unit', true),
      onOpen: () => onOpen('unit'),
    })
  return cells
}

interface WantedProps extends SpokenFigureProps {
  opened: Opened
  onOpen: (what: Opened) => void
  onUnit: (unit: string) => void
}

/** The first thing still to be typed or chosen: the figure, what it is of, its unit; nothing where all is clear. */
function Wanted({ spoken, units, wants, whats, onWhat, opened, onOpen, onUnit }: WantedProps) {
  const proposal = spoken.proposal!
  const choices = choicesOf(proposal)
  const setValue = (value: string) => spoken.change('value', (before) => withValue(before, value))
  const setWhat = (quantity: string) => spoken.change('quantity', (before) => ({ ...before, quantity }))
  if (opened === 'keys') return <FigureKeys value={choices.length ? '' : proposal.value} onValue={setValue} unit={proposal.unit} onUnit={() => onOpen('unit')} />
  if (choices.length) return <Choices name={say('speaking.which_figure')} options={choices.map(figure)} onChoose={setValue} other={[say('speaking.another'), () => onOpen('keys')]} />
  if (wants.includes('quantity') && whats) return <Choices name={say('speaking.which_quantity')} options={whats} onChoose={setWhat} other={onWhat && [say('speaking.other'), onWhat]} />
  if (!wants.includes('unit') || !units.length) return null
  const question = proposal.unit ? say('speaking.wrong_unit', { unit: proposal.unit }) : say('speaking.which_unit')
  return <Choices name={question} options={units.map(figure)} onChoose={onUnit} />
}

/** The words themselves, small: whoever doubts a compartment sees what it was made of. */
export function Heard({ words }: { words: string }) {
  return <p class="soft breaks small close-set">{say('speaking.heard', { words })}</p>
}

interface Option {
  value: string
  words: string
  figure?: boolean
}

const figure = (value: string): Option => ({ value, words: value || say('common.count'), figure: true })

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
      <div class="wraps">
        {options.map((option) => (
          <button key={option.value} type="button" class={`larger${option.figure ? ' figure' : ''}`} onClick={() => onChoose(option.value)}>
            {option.words}
          </button>
        ))}
        {other && (
          <button class="larger" type="button" onClick={other[1]}>
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
export function SpokenActs({ spoken, ready, busy, odd, name = say('common.save'), onRecord }: SpokenActsProps) {
  return (
    <>
      <Act name={say('speaking.wrong')} small sign={<Cross size={26} />} onAct={spoken.putAway} />
      <Act name={busy ? say('common.saving') : odd ? say('common.save_as_it_is') : name} main off={busy || !ready} onAct={onRecord} />
    </>
  )
}

import { Field } from '../../../parts/controls/Field.tsx'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import { QUANTITIES } from '../../../trade/ground/units.ts'
import { say } from '../../frame/say.ts'
import { faultsAt, faultsOnlyAt } from '../form/faults.ts'
import { Group, RemoveButton } from '../form/Group.tsx'
import { changedAt, withoutAt } from '../form/lists.ts'
import type { Typed } from './form.ts'
import type { LinesProps } from './GridLines.tsx'
import { FIGURE_OPERATIONS, namesIn } from './line_words.ts'

interface Props extends LinesProps {
  /** The procedure as the lines now read, for the names that a line can use. */
  procedure: Procedure
}

type Line = Typed['figures'][number]

const KINDS = [...new Set(QUANTITIES.map(({ kind }) => kind))].map((value) => ({ value, words: value }))
const MOST_NAMED = 12

const newLine = (form: Typed): Line => ({
  ...{ code: '', words: '', kind: 'length', do: 'largest', of: form.grid.length ? 'grid' : '', along: '', by: '', definition: '', guide: null },
})

/** The names a line can be worked out of. */
function usableWords(names: Map<string, string>): string {
  const all = [...names.keys()]
  if (!all.length) return say('procedures.no_names')
  return say('procedures.names', { names: `${all.slice(0, MOST_NAMED).join(', ')}${all.length > MOST_NAMED ? ' …' : ''}` })
}

/** The figures worked out at each place, a line each. */
export function FigureLines({ form, put, faults, procedure }: Props) {
  const set = (figures: Typed['figures']) => put({ figures })
  return (
    <Group
      name={say('procedures.figure_lines')}
      add={say('procedures.add_line')}
      onAdd={() => set([...form.figures, newLine(form)])}
      fault={faultsOnlyAt(faults, 'figures')}
    >
      <ol class="lines">
        {form.figures.map((line, i) => (
          <FigureLine
            key={i}
            number={i}
            line={line}
            procedure={procedure}
            wrong={faultsAt(faults, `figures.${i}`)}
            change={(changes) => set(changedAt(form.figures, i, changes))}
            onRemove={() => set(withoutAt(form.figures, i))}
          />
        ))}
      </ol>
    </Group>
  )
}

interface LineProps {
  /** Counted from 0. */
  number: number
  line: Line
  procedure: Procedure
  wrong: string
  change: (changes: Partial<Line>) => void
  onRemove: () => void
}

function FigureLine({ number, line, procedure, wrong, change, onRemove }: LineProps) {
  const label = say('procedures.line_number', { number: number + 1 })
  return (
    <li class={wrong ? 'is-wrong' : ''}>
      <div class="row row-line">
        <Field
          label={label}
          value={line.words}
          onValue={(words) => change({ words })}
          hint={say('procedures.line_name', { name: procedure.figures[number]?.code || '–' })}
        />
        <OperationFields number={number} line={line} procedure={procedure} change={change} />
        <div class="line-short">
          <Field label={say('procedures.line_gives')} value={line.kind} onValue={(kind) => change({ kind })} options={KINDS} />
        </div>
        <div class="line-long">
          <Field label={say('procedures.definition')} value={line.definition} onValue={(definition) => change({ definition })} />
        </div>
        <RemoveButton label={say('procedures.remove_named', { name: line.words || label })} onRemove={onRemove} />
      </div>
      {wrong && <p class="field-wrong">{wrong}</p>}
    </li>
  )
}

/** What is done with what. */
function OperationFields({ number, line, procedure, change }: Omit<LineProps, 'wrong' | 'onRemove'>) {
  const operation = FIGURE_OPERATIONS.find((known) => known.do === line.do)
  const choose = (chosen: string) => {
    const next = FIGURE_OPERATIONS.find((known) => known.do === chosen)
    change({
      do: chosen,
      along: next?.along ? line.along || procedure.grid[0]?.axis || '' : '',
      by: next?.by ? line.by || '1/2' : '',
    })
  }
  return (
    <>
      <Field
        label={say('procedures.line_is')}
        value={line.do}
        onValue={choose}
        options={FIGURE_OPERATIONS.map((known) => ({ value: known.do, words: known.words }))}
      />
      <Field label={say('procedures.line_of')} value={line.of} onValue={(of) => change({ of })} hint={usableWords(namesIn(procedure, number))} figures />
      {operation?.along && (
        <Field
          label={say('procedures.line_along')}
          value={line.along}
          onValue={(along) => change({ along })}
          options={[{ value: '', words: say('common.choose') }, ...procedure.grid.map(({ axis, words }) => ({ value: axis, words }))]}
        />
      )}
      {operation?.by && <Field label={say('procedures.line_times')} value={line.by} onValue={(by) => change({ by })} figures hint="1/2" />}
    </>
  )
}

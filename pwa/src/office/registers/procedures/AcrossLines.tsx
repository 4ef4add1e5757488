import { Field } from '../../../parts/controls/Field.tsx'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import { say } from '../../frame/say.ts'
import { faultsAt, faultsOnlyAt } from '../form/faults.ts'
import { Group, RemoveButton } from '../form/Group.tsx'
import { changedAt, withoutAt } from '../form/lists.ts'
import type { Option } from '../form/schema.ts'
import type { Typed } from './form.ts'
import type { LinesProps } from './GridLines.tsx'
import { ACROSS_OPERATIONS, namesIn } from './line_words.ts'

type Line = Typed['across'][number]

/** The figures worked out over all places of the engine, a line each. */
export function AcrossLines({ form, put, faults, procedure }: LinesProps & { procedure: Procedure }) {
  const set = (across: Typed['across']) => put({ across })
  const names = [...namesIn(procedure)].flatMap(([value, words]) => (value === 'grid' ? [] : [{ value, words }]))
  return (
    <Group
      name={say('procedures.across_lines')}
      add={say('procedures.add_across_line')}
      onAdd={() => set([...form.across, { code: '', words: '', do: 'spread', of: procedure.figures[0]?.code ?? '', share: '', definition: '' }])}
      fault={faultsOnlyAt(faults, 'across')}
    >
      <ol class="lines">
        {form.across.map((line, i) => (
          <AcrossLine
            key={i}
            label={say('procedures.across_line_number', { number: i + 1 })}
            line={line}
            names={names}
            wrong={faultsAt(faults, `across.${i}`)}
            change={(changes) => set(changedAt(form.across, i, changes))}
            onRemove={() => set(withoutAt(form.across, i))}
          />
        ))}
      </ol>
    </Group>
  )
}

interface LineProps {
  label: string
  line: Line
  names: Option[]
  wrong: string
  change: (changes: Partial<Line>) => void
  onRemove: () => void
}

function AcrossLine({ label, line, names, wrong, change, onRemove }: LineProps) {
  const operationOf = (code: string) => ACROSS_OPERATIONS.find((known) => known.do === code)
  return (
    <li class={wrong ? 'is-wrong' : ''}>
      <div class="row row-line">
        <Field label={label} value={line.words} onValue={(words) => change({ words })} />
        <Field
          label={say('procedures.line_is')}
          value={line.do}
          onValue={(chosen) => change({ do: chosen, share: operationOf(chosen)?.share ? line.share || 'rule' : '' })}
          options={ACROSS_OPERATIONS.map((known) => ({ value: known.do, words: known.words }))}
        />
        <Field label={say('procedures.line_of')} value={line.of} onValue={(of) => change({ of })} options={names} />
        {operationOf(line.do)?.share && (
          <Field
            label={say('procedures.line_share')}
            value={line.share}
            onValue={(share) => change({ share })}
            figures
            hint={say('procedures.line_share_hint')}
          />
        )}
        <div class="line-long">
          <Field label={say('procedures.definition')} value={line.definition} onValue={(definition) => change({ definition })} />
        </div>
        <RemoveButton label={say('procedures.remove_named', { name: line.words || label })} onRemove={onRemove} />
      </div>
      {wrong && <p class="field-wrong">{wrong}</p>}
    </li>
  )
}

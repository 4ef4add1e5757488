import { Field } from '../../../parts/controls/Field.tsx'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import { QUANTITIES } from '../../../trade/ground/units.ts'
import { faultsAt } from '../../frame/words.ts'
import { at, Group, LeaveOut, own, type LinesProps } from './GridLines.tsx'
import { ACROSS_OPERATIONS, FIGURE_OPERATIONS, namesIn } from './operations.ts'
import type { Typed } from './form.ts'

interface Props extends LinesProps {
  /** The procedure as the lines now read, for the names that a line can use. */
  procedure: Procedure
}

const KINDS = [...new Set(QUANTITIES.map(({ kind }) => kind))].map((value) => ({ value, words: value }))

/** The words in place of codes: "grid", "largest" … are what a line is worked out of. */
function said(names: Map<string, string>): string {
  const all = [...names.keys()]
  return all.length ? `Can use: ${all.slice(0, 12).join(', ')}${all.length > 12 ? ' …' : ''}` : 'Nothing to use yet.'
}

export function FigureLines({ form, put, faults, procedure }: Props) {
  const set = (figures: Typed['figures']) => put({ figures })
  return (
    <Group
      name="Worked out at each place"
      add="Add a line"
      adds={() =>
        set([
          ...form.figures,
          { code: '', words: '', kind: 'length', do: 'largest', of: form.grid.length ? 'grid' : '', along: '', by: '', definition: '', guide: null },
        ])
      }
      fault={own(faults, 'figures')}
    >
      <ol class="lines">
        {form.figures.map((line, i) => {
          const operation = FIGURE_OPERATIONS.find((one) => one.do === line.do)
          const change = (news: Partial<Typed['figures'][number]>) => set(at(form.figures, i, news))
          const wrong = faultsAt(faults, `figures.${i}`)
          return (
            <li key={i} class={wrong ? 'is-wrong' : ''}>
              <div class="row row-line">
                <Field label={`Line ${i + 1}`} value={line.words} onValue={(words) => change({ words })} hint={`Name: ${procedure.figures[i]?.code || '–'}`} />
                <Field
                  label="is the"
                  value={line.do}
                  onValue={(chosen) => {
                    const next = FIGURE_OPERATIONS.find((one) => one.do === chosen)
                    change({
                      do: chosen,
                      along: next?.along ? line.along || procedure.grid[0]?.axis || '' : '',
                      by: next?.by ? line.by || '1/2' : '',
                    })
                  }}
                  options={FIGURE_OPERATIONS.map((one) => ({ value: one.do, words: one.words }))}
                />
                <Field label="of" value={line.of} onValue={(of) => change({ of })} hint={said(namesIn(procedure, i))} figures />
                {operation?.along && (
                  <Field
                    label="along"
                    value={line.along}
                    onValue={(along) => change({ along })}
                    options={[{ value: '', words: 'choose' }, ...procedure.grid.map(({ axis, words }) => ({ value: axis, words }))]}
                  />
                )}
                {operation?.by && <Field label="times" value={line.by} onValue={(by) => change({ by })} figures hint="1/2" />}
                <div class="line-short">
                  <Field label="gives a" value={line.kind} onValue={(kind) => change({ kind })} options={KINDS} />
                </div>
                <div class="line-long">
                  <Field label="Definition, as it is shown" value={line.definition} onValue={(definition) => change({ definition })} />
                </div>
                <LeaveOut what={`line ${line.words || i + 1}`} act={() => set(form.figures.filter((_, n) => n !== i))} />
              </div>
              {wrong && <p class="field-wrong">{wrong}</p>}
            </li>
          )
        })}
      </ol>
    </Group>
  )
}

export function AcrossLines({ form, put, faults, procedure }: Props) {
  const set = (across: Typed['across']) => put({ across })
  const names = [...namesIn(procedure)].filter(([code]) => code !== 'grid')
  return (
    <Group
      name="Worked out over all places of the engine"
      add="Add a line across"
      adds={() => set([...form.across, { code: '', words: '', do: 'spread', of: procedure.figures[0]?.code ?? '', share: '', definition: '' }])}
      fault={own(faults, 'across')}
    >
      <ol class="lines">
        {form.across.map((line, i) => {
          const operation = ACROSS_OPERATIONS.find((one) => one.do === line.do)
          const change = (news: Partial<Typed['across'][number]>) => set(at(form.across, i, news))
          const wrong = faultsAt(faults, `across.${i}`)
          return (
            <li key={i} class={wrong ? 'is-wrong' : ''}>
              <div class="row row-line">
                <Field label={`Line across ${i + 1}`} value={line.words} onValue={(words) => change({ words })} />
                <Field
                  label="is the"
                  value={line.do}
                  onValue={(chosen) =>
                    change({ do: chosen, share: ACROSS_OPERATIONS.find((one) => one.do === chosen)?.share ? line.share || 'rule' : '' })
                  }
                  options={ACROSS_OPERATIONS.map((one) => ({ value: one.do, words: one.words }))}
                />
                <Field label="of" value={line.of} onValue={(of) => change({ of })} options={names.map(([value, words]) => ({ value, words }))} />
                {operation?.share && (
                  <Field label="share" value={line.share} onValue={(share) => change({ share })} figures hint="3/4, or rule for the workshop's own" />
                )}
                <div class="line-long">
                  <Field label="Definition, as it is shown" value={line.definition} onValue={(definition) => change({ definition })} />
                </div>
                <LeaveOut what={`line across ${line.words || i + 1}`} act={() => set(form.across.filter((_, n) => n !== i))} />
              </div>
              {wrong && <p class="field-wrong">{wrong}</p>}
            </li>
          )
        })}
      </ol>
    </Group>
  )
}

import type { ComponentChildren } from 'preact'
import { Choice, Field } from '../../../parts/controls/Field.tsx'
import { OPTIONAL_PARTS, PARTS } from '../../../trade/engine/parts.ts'
import type { Fault } from '../../../trade/ground/errors.ts'
import { faultsAt } from '../../frame/words.ts'
import type { TypedBank, TypedShaft } from './form.ts'

function Group({
  name,
  add,
  adds,
  fault,
  children,
}: {
  name: string
  add?: string
  adds?: () => void
  fault?: string
  children: ComponentChildren
}) {
  return (
    <fieldset class="group">
      <legend>{name}</legend>
      {children}
      {fault && <p class="field-wrong">{fault}</p>}
      {add && (
        <button type="button" class="plain" onClick={adds}>
          {add}
        </button>
      )}
    </fieldset>
  )
}

/** Puts `news` in place of one item of a list. */
function at<T>(list: T[], index: number, news: Partial<T>): T[] {
  return list.map((item, i) => (i === index ? { ...item, ...news } : item))
}

interface BanksProps {
  banks: TypedBank[]
  put: (banks: TypedBank[]) => void
  faults: Fault[]
}

export function Banks({ banks, put, faults }: BanksProps) {
  const own = faults.filter(({ where }) => where === 'banks')
  return (
    <Group name="Banks" fault={faultsAt(own, 'banks')}>
      {banks.map((bank, i) => (
        <div class="row row-bank" key={i}>
          <Field
            label="Letter"
            value={bank.code}
            onValue={(code) => put(at(banks, i, { code }))}
            wrong={faultsAt(faults, `banks.${i}.code`)}
          />
          <Field
            label="Side"
            value={bank.name}
            onValue={(name) => put(at(banks, i, { name }))}
            wrong={faultsAt(faults, `banks.${i}.name`)}
          />
          <Field
            label="Cylinders, front to rear"
            value={bank.cylinders}
            onValue={(cylinders) => put(at(banks, i, { cylinders }))}
            figures
            wrong={faultsAt(faults, `banks.${i}.cylinders`)}
          />
          <Field
            label="Set back, mm"
            value={bank.stagger_mm}
            onValue={(stagger_mm) => put(at(banks, i, { stagger_mm }))}
            figures
            wrong={faultsAt(faults, `banks.${i}.stagger_mm`)}
          />
        </div>
      ))}
    </Group>
  )
}

interface ShaftsProps {
  shafts: TypedShaft[]
  banks: TypedBank[]
  put: (shafts: TypedShaft[]) => void
  faults: Fault[]
}

export function Camshafts({ shafts, banks, put, faults }: ShaftsProps) {
  const where = [
    { value: '', words: 'all banks' },
    ...banks.map((bank) => ({ value: bank.code, words: `bank ${bank.code}` })),
  ]
  return (
    <Group
      name="Camshafts"
      add="Add a camshaft"
      adds={() =>
        put([
          ...shafts,
          { code: shafts.length ? `shaft_${shafts.length + 1}` : 'block', bank: '', drives: 'inlet exhaust' },
        ])
      }
    >
      {shafts.map((shaft, i) => (
        <div class="row row-shaft" key={i}>
          <Field
            label="Code"
            value={shaft.code}
            onValue={(code) => put(at(shafts, i, { code }))}
            wrong={faultsAt(faults, `camshafts.${i}`)}
          />
          <Field label="Lies in" value={shaft.bank} onValue={(bank) => put(at(shafts, i, { bank }))} options={where} />
          <Field
            label="Drives"
            value={shaft.drives}
            onValue={(drives) => put(at(shafts, i, { drives }))}
            options={[
              { value: 'inlet exhaust', words: 'both' },
              { value: 'inlet', words: 'inlet' },
              { value: 'exhaust', words: 'exhaust' },
            ]}
          />
          <button
            type="button"
            class="plain"
            onClick={() => put(shafts.filter((_, n) => n !== i))}
            aria-label={`Leave out camshaft ${shaft.code}`}
          >
            leave out
          </button>
        </div>
      ))}
    </Group>
  )
}

export function Pieces({ pieces, put }: { pieces: string[]; put: (pieces: string[]) => void }) {
  return (
    <Choice
      label="It also has"
      many
      options={OPTIONAL_PARTS.map((code) => ({ value: code, words: PARTS[code]?.name ?? code }))}
      chosen={pieces}
      onChoose={(code) => put(pieces.includes(code) ? pieces.filter((one) => one !== code) : [...pieces, code])}
    />
  )
}

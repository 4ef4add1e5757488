import { useId } from 'preact/hooks'
import { USUAL } from '../../trade/proposals/fits.ts'
import { Field } from '../controls/Field.tsx'
import { MATERIALS, MATERIAL_SOURCE, ofMaterial, type Typed, type Wrong } from './fit_sums.ts'

interface Props {
  typed: Typed
  wrong: Wrong
  change: (change: Partial<Typed>) => void
}

const METALS = [{ value: '', words: 'choose or type below' }, ...MATERIALS.map((one) => ({ value: one.code, words: one.words }))]

function Typing({ typed, wrong, change, field, label, hint, keys = 'decimal' }: Props & { field: keyof Typed; label: string; hint?: string; keys?: 'text' | 'decimal' }) {
  return <Field label={label} value={typed[field]} onValue={(value) => change({ [field]: value })} wrong={wrong[field]} hint={hint} figures keys={keys} />
}

/** The code, the usual fits beside it, and the two sizes as measured. */
export function CodeFields(props: Props) {
  const { typed, change } = props
  const about = useId()
  return (
    <>
      <Typing {...props} field="code" label="Size and classes" keys="text" />
      <div class="fit-usual" role="group" aria-labelledby={about}>
        <p class="cell-label" id={about}>
          Usual fits
        </p>
        <div class="fit-usual-row">
          {USUAL.map(({ code, words }) => (
            <button key={code} type="button" title={words} aria-pressed={ends(typed.code, code)} onClick={() => change({ code: withClasses(typed.code, code) })}>
              <span class="figure">{code}</span>
            </button>
          ))}
        </div>
      </div>
      <div class="fit-two">
        <Typing {...props} field="hole" label="Hole as measured" />
        <Typing {...props} field="shaft" label="Shaft as measured" />
      </div>
    </>
  )
}

// A size at the front of what was typed stays; only its classes change.
function withClasses(typed: string, classes: string): string {
  const size = typed.trim().replace(/\s*(?:[A-Z]{1,2}|[a-z]{1,2})\d{1,2}(?:\s*[/\-\s]\s*(?:[A-Z]{1,2}|[a-z]{1,2})\d{1,2})?$/, '')
  return `${size || '20'} ${classes}`
}

const ends = (typed: string, classes: string) => typed.replace(/\s/g, '').endsWith(classes)

/** What the two parts are: rings of a metal, with the seat between them. */
export function PressFields(props: Props) {
  return (
    <>
      <div class="fit-two">
        <Typing {...props} field="hubOuter" label="Hub, outside Ø" />
        <Typing {...props} field="shaftBore" label="Shaft, bore Ø" hint="empty: solid" />
      </div>
      <div class="fit-two">
        <Metal {...props} part="hub" label="Hub, material" />
        <Metal {...props} part="shaft" label="Shaft, material" />
      </div>
      <div class="fit-two">
        <Typing {...props} field="hubModulus" label="Hub, E in GPa" />
        <Typing {...props} field="shaftModulus" label="Shaft, E in GPa" />
        <Typing {...props} field="hubPoisson" label="Hub, Poisson's ratio" />
        <Typing {...props} field="shaftPoisson" label="Shaft, Poisson's ratio" />
      </div>
      <div class="fit-two">
        <Typing {...props} field="length" label="Length of the seat" />
        <Typing {...props} field="friction" label="Friction" hint="a guess, as typed" />
      </div>
      <p class="field-hint">{MATERIAL_SOURCE}</p>
    </>
  )
}

function Metal({ part, label, typed, change }: Props & { part: 'hub' | 'shaft'; label: string }) {
  const chosen = part === 'hub' ? typed.hub : typed.shaftOf
  return <Field label={label} value={chosen} options={METALS} onValue={(code) => change(ofMaterial(part, code))} />
}

/** What heating takes: how the parts expand, the slip wanted, how warm the shaft is. */
export function HeatFields(props: Props) {
  return (
    <>
      <div class="fit-two">
        <Metal {...props} part="hub" label="Hub, made of" />
        <Metal {...props} part="shaft" label="Shaft, made of" />
      </div>
      <div class="fit-two">
        <Typing {...props} field="hubAlpha" label="Hub grows, 1e-6/K" />
        <Typing {...props} field="shaftAlpha" label="Shaft grows, 1e-6/K" />
        <Typing {...props} field="slip" label="Slip wanted, on the Ø" />
        <Typing {...props} field="shaftTemperature" label="Shaft is at, °C" keys="text" />
      </div>
    </>
  )
}

import type { ComponentChildren } from 'preact'
import { USUAL_SOURCE } from '../../trade/proposals/fits.ts'
import { FORCE_FORMULA, FORMULA, HEAT_FORMULA, PRESS_CAUTIONS } from '../../trade/proposals/press_fit.ts'
import { FitDrawing } from './FitDrawing.tsx'
import { inkOf } from './fit_ink.ts'
import type { Case, Sums, ZoneRow } from './fit_sums.ts'

/** The drawing, what its balloons say, and the limits of size. */
export function FitFigures({ sums }: { sums: Sums }) {
  const { drawn, rows, dimensions, kind, usual, size } = sums
  if (!drawn) return <p class="soft">Type a size and its classes, such as 20 H7/p6, and the fit is drawn here.</p>
  return (
    <div class="fit">
      <FitDrawing drawn={drawn} size={size} />
      <div class="fit-said">
        {kind && <p class="fit-kind">{capital(kind)}</p>}
        {usual && <p class="soft">usual for: {usual}</p>}
        {inkOf(drawn).off && <p class="soft">A measured size lies far off: its mark stands at the edge, not to scale.</p>}
        <dl class="fit-dimensions">
          {dimensions.map((one) => (
            <div key={one.number}>
              <dt>
                <span class="balloon is-small" aria-hidden="true">
                  {one.number}
                </span>
                {one.words}
              </dt>
              <dd class="figure">{one.amount}</dd>
            </div>
          ))}
        </dl>
      </div>
      <Limits rows={rows} />
    </div>
  )
}

function Limits({ rows }: { rows: ZoneRow[] }) {
  return (
    <table class="fit-limits">
      <thead>
        <tr>
          <th scope="col">
            <span class="unseen">part</span>
          </th>
          <th scope="col">largest, mm</th>
          <th scope="col">smallest, mm</th>
          <th scope="col">measured</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.name}>
            <th scope="row">
              {row.name} <span class="figure">{row.code}</span>
            </th>
            <td class="figure">
              {row.largest} <span class="fit-deviation">{row.upper}</span>
            </td>
            <td class="figure">
              {row.smallest} <span class="fit-deviation">{row.lower}</span>
            </td>
            <td>
              <span class="figure">{row.measured || '–'}</span>
              {row.standing && <span class="fit-standing"> {row.standing}</span>}
            </td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <td colSpan={4} class="soft small">
            Tables of ISO 286-2:2010, deviations in µm. Measured sizes are compared as typed: what the gauge leaves open is not counted here. Usual
            fits: {USUAL_SOURCE}.
          </td>
        </tr>
      </tfoot>
    </table>
  )
}

/** Contact pressure, stresses, press force, for each interference that may arise. */
export function PressFigures({ sums }: { sums: Sums }) {
  const named = sums.cases.find((one) => one.press.length)?.press.map((line) => line.name) ?? []
  return (
    <>
      {sums.pressWants && <p class="soft">{sums.pressWants}</p>}
      {named.length > 0 && (
        <Cases cases={sums.cases}>
          {named.map((name, at) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              {sums.cases.map((one) => (
                <td key={one.name} class="figure">
                  {one.press[at]?.value ?? '–'}
                </td>
              ))}
            </tr>
          ))}
        </Cases>
      )}
      <p class="fit-formula small soft">
        <span class="figure">{FORMULA.split(', Lamé')[0]}</span>, Lamé{FORMULA.split(', Lamé')[1]}. <span class="figure">{FORCE_FORMULA}</span>. Stress above 0 pulls, below 0 presses.
      </p>
      {sums.cases.length > 0 && <Cautions said={PRESS_CAUTIONS} />}
    </>
  )
}

/** How warm the hub has to be to go over the shaft with the slip wanted. */
export function HeatFigures({ sums }: { sums: Sums }) {
  const told = sums.cases.some((one) => one.heat)
  return (
    <>
      {sums.heatWants && <p class="soft">{sums.heatWants}</p>}
      {told && (
        <Cases cases={sums.cases}>
          <tr>
            <th scope="row">hub at, °C</th>
            {sums.cases.map((one) => (
              <td key={one.name} class="figure fit-heat">
                {one.heat}
              </td>
            ))}
          </tr>
        </Cases>
      )}
      <p class="fit-formula small soft">
        <span class="figure">{HEAT_FORMULA}</span>, rounded up to a whole degree.
      </p>
      {sums.cases.length > 0 && <Cautions said={sums.cautions} />}
    </>
  )
}

function Cases({ cases, children }: { cases: Case[]; children: ComponentChildren }) {
  return (
    <table class="fit-cases">
      <thead>
        <tr>
          <th scope="col">interference</th>
          {cases.map((one) => (
            <th key={one.name} scope="col">
              {one.name} <span class="figure">{one.interference}</span>
            </th>
          ))}
        </tr>
      </thead>
      <tbody>{children}</tbody>
    </table>
  )
}

function Cautions({ said }: { said: string[] }) {
  return (
    <ul class="fit-cautions" aria-label="Cautions">
      {said.map((one) => (
        <li key={one}>{one}</li>
      ))}
    </ul>
  )
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

import type { ComponentChildren } from 'preact'
import { USUAL_SOURCE } from '../../trade/proposals/fits.ts'
import { FORCE_FORMULA, FORMULA, HEAT_FORMULA, PRESS_CAUTIONS } from '../../trade/proposals/press_fit.ts'
import { FitDrawing } from './FitDrawing.tsx'
import { inkOf } from './fit_ink.ts'
import type { Case, Sums, ZoneRow } from './fit_sums.ts'
import { say } from '../words/say.ts'
import './fits.css'

/** The drawing, the words to its balloons, and the limits of size. */
export function FitFigures({ sums }: { sums: Sums }) {
  const { drawn, rows, dimensions, kind, usual, size } = sums
  if (!drawn) return <p class="soft">{say('fits.nothing')}</p>
  return (
    <div class="fit">
      <FitDrawing drawn={drawn} size={size} />
      <div class="fit-said">
        {kind && <p class="bold large">{capital(kind)}</p>}
        {usual && <p class="soft">{say('fits.usual_for', { what: usual })}</p>}
        {inkOf(drawn).off && <p class="soft">{say('fits.off_scale')}</p>}
        <dl class="fit-dimensions">
          {dimensions.map(({ number, words, amount }) => (
            <div class="along ends hair-under" key={number}>
              <dt class="along">
                <span class="balloon is-small bold keeps framed" aria-hidden="true">
                  {number}
                </span>
                {words}
              </dt>
              <dd class="figure larger one-line">{amount}</dd>
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
    <table class="table fit-limits thick-over">
      <thead>
        <tr>
          <th scope="col">
            <span class="unseen">{say('fits.part')}</span>
          </th>
          <th scope="col">{say('fits.largest')}</th>
          <th scope="col">{say('fits.smallest')}</th>
          <th scope="col">{say('fits.measured')}</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.name}>
            <th scope="row">
              {row.name === 'hole' ? say('fits.hole') : say('fits.shaft')} <span class="figure">{row.code}</span>
            </th>
            <td class="figure">
              {row.largest} <span class="fit-deviation soft">{row.upper}</span>
            </td>
            <td class="figure">
              {row.smallest} <span class="fit-deviation soft">{row.lower}</span>
            </td>
            <td>
              <span class="figure">{row.measured || '–'}</span>
              {row.standing && <span class="fit-standing own-line small"> {row.standing}</span>}
            </td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <td colSpan={4} class="soft small">
            {say('fits.tables', { source: USUAL_SOURCE })}
          </td>
        </tr>
      </tfoot>
    </table>
  )
}

/** Contact pressure, stresses, press force, for each interference that may arise. */
export function PressFigures({ sums }: { sums: Sums }) {
  const names = sums.cases.find(({ press }) => press.length)?.press.map((line) => line.name) ?? []
  return (
    <>
      {sums.pressWants && <p class="soft">{sums.pressWants}</p>}
      {names.length > 0 && (
        <Cases cases={sums.cases}>
          {names.map((name, at) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              {sums.cases.map((seat) => (
                <td key={seat.name} class="figure">
                  {seat.press[at]?.value ?? '–'}
                </td>
              ))}
            </tr>
          ))}
        </Cases>
      )}
      <p class="fit-formula small soft above-4">
        <span class="figure">{FORMULA}</span>. <span class="figure">{FORCE_FORMULA}</span>. {say('fits.stress_sign')}
      </p>
      {sums.cases.length > 0 && <Cautions words={PRESS_CAUTIONS} />}
    </>
  )
}

/** How warm the hub has to be to go over the shaft with the assembly clearance. */
export function HeatFigures({ sums }: { sums: Sums }) {
  const heated = sums.cases.some(({ heat }) => heat)
  return (
    <>
      {sums.heatWants && <p class="soft">{sums.heatWants}</p>}
      {heated && (
        <Cases cases={sums.cases}>
          <tr>
            <th scope="row">{say('fits.hub_temperature')}</th>
            {sums.cases.map(({ name, heat }) => (
              <td key={name} class="figure fit-heat">
                {heat}
              </td>
            ))}
          </tr>
        </Cases>
      )}
      <p class="fit-formula small soft above-4">
        <span class="figure">{HEAT_FORMULA}</span>. {say('fits.rounded_up')}
      </p>
      {sums.cases.length > 0 && <Cautions words={sums.cautions} />}
    </>
  )
}

function Cases({ cases, children }: { cases: Case[]; children: ComponentChildren }) {
  return (
    <table class="table fit-cases thick-over">
      <thead>
        <tr>
          <th scope="col">{say('fits.interference')}</th>
          {cases.map(({ name, interference }) => (
            <th key={name} scope="col">
              {name} <span class="figure">{interference}</span>
            </th>
          ))}
        </tr>
      </thead>
      <tbody>{children}</tbody>
    </table>
  )
}

function Cautions({ words }: { words: string[] }) {
  return (
    <ul class="fit-cautions" aria-label={say('fits.cautions')}>
      {words.map((caution) => (
        <li class="small caution" key={caution}>{caution}</li>
      ))}
    </ul>
  )
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

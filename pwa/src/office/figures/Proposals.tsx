import type { Sheet } from '../../trade/sheet_types.ts'
import { address } from '../route.ts'
import { readingWords } from './compare.ts'
import type { Proposal } from './shapes.ts'

interface Props {
  job: string
  sheets: Sheet[]
  proposals: Proposal[]
  /** The sheet that is open: a reading that forces a proposal is first looked for there. */
  of: Sheet
}

/** What follows from the figures: title and lines as a person says them, the reading that forces it, inputs and formula. */
export function Proposals({ job, sheets, proposals, of }: Props) {
  if (!proposals.length) return null
  return (
    <section class="proposals" aria-labelledby="proposals-title">
      <h2 id="proposals-title">Proposed from the figures</h2>
      <p class="soft">A proposal is arithmetic from what is named under it. Somebody decides.</p>
      <ol>
        {proposals.map((one) => (
          <li key={one.title}>
            <h3>{one.title}</h3>
            {one.lines.map((line) => (
              <p key={line}>{line}</p>
            ))}
            <Forced job={job} sheets={[of, ...sheets]} by={one.forced_by} />
            {one.cautions.map((caution) => (
              <p key={caution} class="caution">
                {caution}
              </p>
            ))}
            <details>
              <summary>Inputs and formula</summary>
              <table class="inputs">
                <tbody>
                  {one.inputs.map((input) => (
                    <tr key={input.name}>
                      <th scope="row">{input.name}</th>
                      <td class="figure">{input.value}</td>
                      <td class="soft">{input.source}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
              <p class="figure formula">{one.formula}</p>
            </details>
          </li>
        ))}
      </ol>
    </section>
  )
}

function Forced({ job, sheets, by }: { job: string; sheets: Sheet[]; by: Proposal['forced_by'] }) {
  if (!by) return null
  const sheet = sheets.find((one) => one.places.some(({ place, readings }) => place === by.place && readings[by.reading]))
  const place = sheet?.places.find((one) => one.place === by.place)
  const exhibit = place?.readings[by.reading]?.values.findLast((value) => value.exhibit)?.exhibit
  const words = `${place?.name ?? by.place.replaceAll('/', ' ')}, ${sheet ? readingWords(sheet, by.reading) : by.reading}`
  return (
    <p>
      Forced by {exhibit ? <a href={address(['job', job], { exhibit })}>{words}, exhibit {exhibit}</a> : words}
      {by.value && (
        <>
          : <span class="figure">{by.value}</span>
        </>
      )}
      .
    </p>
  )
}

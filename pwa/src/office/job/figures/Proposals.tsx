import type { Sheet } from '../../../trade/sheets/types.ts'
import { address } from '../../frame/route.ts'
import { readingWords } from './written.ts'
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
            <Forced job={job} sheets={[of, ...sheets]} by={one.forced_by} />
            <Lines lines={one.forced_by ? one.lines.slice(1) : one.lines} />
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

const MANY = 6

/** What it says, line by line; a list for every valve is folded. */
function Lines({ lines }: { lines: string[] }) {
  const all = lines.map((line) => <p key={line}>{line}</p>)
  if (lines.length <= MANY) return <>{all}</>
  return (
    <details open>
      <summary>{lines.length} places</summary>
      <div class="proposal-lines">{all}</div>
    </details>
  )
}

function Forced({ job, sheets, by }: { job: string; sheets: Sheet[]; by: Proposal['forced_by'] }) {
  if (!by) return null
  const found = sheets
    .flatMap((sheet) => sheet.places.map((place) => ({ sheet, place })))
    .filter(({ place }) => place.place === by.place)
    .map(({ sheet, place }) => {
      const code = Object.keys(place.readings).find((one) => one === by.reading || readingWords(sheet, one) === by.reading)
      return { place, taken: code === undefined ? undefined : place.readings[code] }
    })
    .find(({ taken }) => taken)
  const exhibit = found?.taken?.values.findLast((value) => value.exhibit)?.exhibit
  const words = `${found?.place.name ?? by.place.replaceAll('/', ' ')}, ${by.reading}`
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

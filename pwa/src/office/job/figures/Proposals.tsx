import type { Sheet } from '../../../trade/sheets/types.ts'
import { address } from '../../frame/route.ts'
import { readingWords } from './written.ts'
import type { Proposal } from './shapes.ts'
import { say } from '../../frame/say.ts'

interface Props {
  job: string
  sheets: Sheet[]
  proposals: Proposal[]
  /** The sheet that is open: a reading that forces a proposal is looked for there first. */
  of: Sheet
}

/** What is proposed from the figures: title and lines, the reading that forces it, inputs and formula. */
export function Proposals({ job, sheets, proposals, of }: Props) {
  if (!proposals.length) return null
  return (
    <section class="proposals above-8" aria-labelledby="proposals-title">
      <h2 id="proposals-title">{say('figures.proposals_title')}</h2>
      <p class="soft">{say('figures.proposals_help')}</p>
      <ol class="in-grid above-4">
        {proposals.map((proposal) => (
          <li key={proposal.title}>
            <h3>{proposal.title}</h3>
            <Forced job={job} sheets={[of, ...sheets]} by={proposal.forced_by} />
            <Lines lines={withoutForced(proposal)} />
            {proposal.cautions.map((caution) => (
              <p key={caution} class="caution">
                {caution}
              </p>
            ))}
            <details>
              <summary>{say('figures.inputs')}</summary>
              <table class="table">
                <tbody>
                  {proposal.inputs.map((input) => (
                    <tr key={input.name}>
                      <th scope="row">{input.name}</th>
                      <td class="figure">{input.value}</td>
                      <td class="soft">{input.source}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
              <p class="figure formula breaks">{proposal.formula}</p>
            </details>
          </li>
        ))}
      </ol>
    </section>
  )
}

/** Its lines without the first, where that only names the reading that forces it: this stands above them with a link. */
function withoutForced({ lines, forced_by }: Proposal): string[] {
  return forced_by && lines[0]?.includes(forced_by.value) ? lines.slice(1) : lines
}

const MANY = 6

/** Its lines; a list for every valve can be folded. */
function Lines({ lines }: { lines: string[] }) {
  const all = lines.map((line) => <p key={line}>{line}</p>)
  if (lines.length <= MANY) return <>{all}</>
  return (
    <details open>
      <summary>{say('figures.place_count', { count: lines.length })}</summary>
      <div class="proposal-lines">{all}</div>
    </details>
  )
}

/** The reading that forces a proposal, leading to its record. */
function Forced({ job, sheets, by }: { job: string; sheets: Sheet[]; by: Proposal['forced_by'] }) {
  if (!by) return null
  const match = sheets
    .flatMap((sheet) => sheet.places.map((place) => ({ sheet, place })))
    .filter(({ place }) => place.place === by.place)
    .map(({ sheet, place }) => {
      const code = Object.keys(place.readings).find((key) => key === by.reading || readingWords(sheet, key) === by.reading)
      return { place, taken: code === undefined ? undefined : place.readings[code] }
    })
    .find(({ taken }) => taken)
  const exhibit = match?.taken?.values.findLast((value) => value.exhibit)?.exhibit
  const words = `${match?.place.name ?? by.place.replaceAll('/', ' ')}, ${by.reading}`
  return (
    <p>
      {say('figures.forced_by')}{' '}
      {exhibit ? <a href={address(['job', job], { exhibit })}>{say('figures.forced_record', { reading: words, number: String(exhibit) })}</a> : words}
      {by.value && (
        <>
          : <span class="figure">{by.value}</span>
        </>
      )}
    </p>
  )
}

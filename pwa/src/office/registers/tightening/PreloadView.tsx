import { type PreloadLine, type PreloadSaid, STRESS_AREA } from '../../../trade/tightening/preload_estimate.ts'

/** What the torque stages may come to in the bolt: an estimate with its assumptions and its spread, never a limit. */
export function PreloadView({ said }: { said: PreloadSaid | null }) {
  return (
    <section class="preload" aria-label="Preload">
      <h2>Preload, an estimate</h2>
      {!said && <p class="soft">It appears once thread, friction and targets hold together.</p>}
      {said?.unknown && <p>{said.unknown}</p>}
      {said && !said.unknown && <Estimate said={said} />}
    </section>
  )
}

function Estimate({ said }: { said: PreloadSaid }) {
  const shared = said.stages.find(({ short }) => short)
  return (
    <>
      {shared && (
        <p class="soft">
          Short form with {shared.short!.by}
          {shared.long && <>; long form with {shared.long.by}</>}.
        </p>
      )}
      <dl class="preload-stages">
        {said.stages.map((stage) => (
          <div key={stage.code}>
            <dt>
              {stage.words} <span class="figure">{stage.target}</span>
            </dt>
            <dd>
              {stage.short && <Line words="short form" line={stage.short} />}
              {stage.long && <Line words="long form" line={stage.long} />}
              {stage.advance && (
                <span>
                  a nut that spins freely goes on by <span class="figure">{stage.advance}</span>; what it adds in preload is not told
                </span>
              )}
            </dd>
          </div>
        ))}
      </dl>
      <p class="preload-loads">
        {said.thread}:{' '}
        {[...said.loads, ...said.sizes.filter(({ words }) => words === STRESS_AREA)].map(({ words, value }, i) => (
          <span key={words}>
            {i > 0 && '; '}
            {words} <span class="figure">{value}</span>
          </span>
        ))}
      </p>
      <details>
        <summary>What was assumed</summary>
        <ul class="visits">
          {said.assumptions.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      </details>
      <ul class="preload-cautions">
        {said.cautions.map((words) => (
          <li key={words} class="caution">
            {words}
          </li>
        ))}
      </ul>
    </>
  )
}

function Line({ words, line }: { words: string; line: PreloadLine }) {
  return (
    <span class="preload-line">
      <b class="figure">{line.usual}</b>, from <span class="figure">{line.low}</span> to <span class="figure">{line.high}</span>{' '}
      <span class="soft">{words}</span>
      {line.share && <span class="row-said">{line.share}</span>}
    </span>
  )
}

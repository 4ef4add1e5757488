import { say } from '../../frame/say.ts'
import type { Pack } from '../../frame/shapes.ts'
import { bytes, dayAndClock, print } from '../../frame/words.ts'

/** The packs of a job: those issued, to be downloaded, and those being made. */
export function Issued({ packs }: { packs: Pack[] | null }) {
  if (!packs) return null
  return (
    <section class="issued headed" aria-labelledby="issued-title">
      <h2 id="issued-title">{say('pack.issued_title')}</h2>
      {packs.length === 0 && <p class="empty">{say('pack.none_yet')}</p>}
      <ol>
        {packs.map((pack) => (
          <Line key={pack.id} pack={pack} />
        ))}
      </ol>
    </section>
  )
}

function Line({ pack }: { pack: Pack }) {
  return (
    <li class={`hair-under in-grid pack-line pack-${pack.state}`}>
      <p class="pack-line-name">
        <b>{pack.sort === 'sealed' ? say('pack.sealed') : say('pack.customer')}</b>
        <span class="soft"> {dayAndClock(pack.created)}</span>
      </p>
      {(pack.state === 'waiting' || pack.state === 'working') && <Progress pack={pack} />}
      {pack.state === 'failed' && <p class="field-wrong">{pack.words}</p>}
      {pack.state === 'ready' && (
        <>
          <p class="pack-line-words breaks">
            <span class="figure">{pack.name}</span>{' '}
            {pack.size !== null && <span class="figure">{bytes(pack.size)}</span>}
            {pack.sha256 && <span class="figure soft"> {say('pack.fingerprint', { print: print(pack.sha256) })}</span>}
          </p>
          <a class="act" href={`/api/packs/${pack.id}/file`} download={pack.name} aria-label={say('pack.download_name', { name: pack.name })}>
            {say('pack.download')}
          </a>
        </>
      )}
    </li>
  )
}

function Progress({ pack }: { pack: Pack }) {
  return (
    <div class="pack-progress">
      <progress max={Math.max(1, pack.total)} value={pack.done} aria-label={say('pack.making')} />
      <p role="status">
        {pack.words || (pack.state === 'waiting' ? say('pack.waiting') : say('pack.working'))}
        {pack.total > 0 && <span class="figure"> · {say('pack.progress', { done: pack.done, total: pack.total })}</span>}
      </p>
    </div>
  )
}

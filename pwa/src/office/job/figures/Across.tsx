import type { Sheet } from '../../../trade/sheets/types.ts'
import { say } from '../../frame/say.ts'

/** Figures over all places of the engine together. */
export function Across({ sheet }: { sheet: Sheet }) {
  if (!sheet.across.length) return null
  const names = new Map(sheet.places.map(({ place, name }) => [place, name]))
  return (
    <section aria-labelledby="across-title">
      <h2 id="across-title">{say('figures.across')}</h2>
      <dl class="across">
        {sheet.across.map((line) => (
          <div class="hair-under in-grid" key={line.code}>
            <dt title={line.definition}>{line.words}</dt>
            <dd>
              {line.words_said || (
                <>
                  {line.value === null ? say('figures.not_yet') : <span class="figure">{`${line.value} ${line.unit}`}</span>}{' '}
                  {line.places.map((place) => names.get(place) ?? place).join(', ')}
                </>
              )}
            </dd>
          </div>
        ))}
      </dl>
    </section>
  )
}

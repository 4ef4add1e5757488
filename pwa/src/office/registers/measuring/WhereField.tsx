import { Field } from '../../../parts/controls/Field.tsx'
import { placeName, places } from '../../../trade/engine/locations.ts'
import type { EngineType } from '../../../trade/engine/parts.ts'
import { choices, chosen, patterns } from './where.ts'

interface Props {
  type: EngineType
  part: string
  where: string[]
  put: (where: string[]) => void
  wrong: string
}

/** Where it counts: all, inlet or exhaust only, or places ticked one by one. */
export function WhereField({ type, part, where, put, wrong }: Props) {
  const choice = chosen(part, where)
  const all = places(type).filter((place) => place.part === part)
  return (
    <>
      <Field
        label="Counts for"
        value={choice}
        onValue={(next) => put(patterns(part, next, all.slice(0, 1).map(({ code }) => code)))}
        options={choices(part)}
        wrong={wrong}
      />
      {choice === 'some' && (
        <fieldset class="where-places wide">
          <legend class="unseen">Places it counts for</legend>
          {all.map(({ code }) => (
            <label key={code} class="tick">
              <input
                type="checkbox"
                checked={where.includes(code)}
                onChange={(event) => put(event.currentTarget.checked ? [...where, code] : where.filter((one) => one !== code))}
              />
              <span>{placeName(type, code)}</span>
            </label>
          ))}
        </fieldset>
      )}
    </>
  )
}

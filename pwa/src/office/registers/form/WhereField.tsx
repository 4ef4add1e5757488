import { Field } from '../../../parts/controls/Field.tsx'
import { placeName, places } from '../../../trade/engine/locations.ts'
import type { EngineType } from '../../../trade/engine/parts.ts'
import { say } from '../../frame/say.ts'
import { choices, chosen, patterns } from '../measuring/where.ts'
import { Tick } from './Tick.tsx'

interface Props {
  type: EngineType
  part: string
  where: string[]
  put: (where: string[]) => void
  wrong: string
}

/** Where it applies: everywhere, inlet or exhaust only, or places ticked one by one. */
export function WhereField({ type, part, where, put, wrong }: Props) {
  const choice = chosen(part, where)
  const codes = places(type).flatMap((place) => (place.part === part ? [place.code] : []))
  return (
    <>
      <Field
        label={say('registers.applies_to')}
        value={choice}
        onValue={(next) => put(patterns(part, next, codes.slice(0, 1)))}
        options={choices(part)}
        wrong={wrong}
      />
      {choice === 'some' && (
        <fieldset class="where-places wide in-grid">
          <legend class="unseen">{say('registers.places_it_applies_to')}</legend>
          {codes.map((code) => (
            <Tick
              key={code}
              label={placeName(type, code)}
              checked={where.includes(code)}
              onChange={(checked) => put(checked ? [...where, code] : where.filter((other) => other !== code))}
            />
          ))}
        </fieldset>
      )}
    </>
  )
}

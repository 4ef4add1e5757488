import { say } from '../words/say.ts'
import { Sheet } from './Sheet.tsx'

/** The units to choose from; "" is a plain count. */
export function UnitSheet({ units, now, onChoose, onClose }: { units: string[]; now: string; onChoose: (unit: string) => void; onClose: () => void }) {
  return (
    <Sheet title={say('units.title')} onClose={onClose}>
      <div class="unit-choice">
        {units.map((unit) => (
          <button
            key={unit}
            type="button"
            aria-pressed={unit === now}
            onClick={() => {
              onChoose(unit)
              onClose()
            }}
          >
            {unit || say('keys.count')}
          </button>
        ))}
      </div>
    </Sheet>
  )
}

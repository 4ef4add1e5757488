import { Camera, Fit, Glass, Pencil, Prints, Sheaf, Spanner, Steps, Ticks } from '../../parts/controls/icons.tsx'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import type { Job } from '../../store/index.ts'
import { open } from '../frame/route.ts'
import { say } from '../frame/say.ts'

const WAYS = [
  { screen: 'finding', name: 'more.finding', hint: 'more.finding_hint', Sign: Glass },
  { screen: 'note', name: 'common.note', hint: 'more.note_hint', Sign: Pencil },
  { screen: 'torque', name: 'more.torque', hint: 'more.torque_hint', Sign: Spanner },
  { screen: 'fits', name: 'fits.title', hint: 'more.fits_hint', Sign: Fit },
  { screen: 'stage', name: 'stage.title', hint: 'more.stage_hint', Sign: Steps },
  { screen: 'document', name: 'more.document', hint: 'more.document_hint', Sign: Sheaf },
  { screen: 'camera', name: 'more.pictures', hint: 'more.pictures_hint', Sign: Camera },
  { screen: 'record', name: 'more.record', hint: 'more.record_hint', Sign: Ticks },
  { screen: 'facts', name: 'more.facts', hint: 'more.facts_hint', Sign: Prints },
] as const

/** What is done less often than speaking, taking pictures and measuring. */
export function MoreSheet({ job, onClose }: { job: Job; onClose: () => void }) {
  return (
    <Sheet title={say('more.title')} onClose={onClose}>
      <ul class="ways">
        {WAYS.map(({ screen, name, hint, Sign }) => (
          <li key={screen}>
            <button
              type="button"
              class="along whole"
              onClick={() => {
                onClose()
                open(screen, job.id)
              }}
            >
              <Sign size={28} />
              <span>
                <strong>{say(name)}</strong>
                <span class="small soft">{say(hint)}</span>
              </span>
            </button>
          </li>
        ))}
      </ul>
    </Sheet>
  )
}

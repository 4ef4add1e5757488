import { Camera, Fit, Glass, Pencil, Prints, Sheaf, Spanner, Steps, Ticks } from '../../parts/controls/icons.tsx'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import type { Job } from '../../store/index.ts'
import { open } from '../frame/route.ts'

const WAYS = [
  { screen: 'finding', name: 'Finding', hint: 'what is seen, and the opinion apart', Sign: Glass },
  { screen: 'note', name: 'Note', hint: 'typed', Sign: Pencil },
  { screen: 'torque', name: 'Torque', hint: 'tightened or let go', Sign: Spanner },
  { screen: 'fits', name: 'Fits', hint: 'limits, press force, heat: sums only', Sign: Fit },
  { screen: 'stage', name: 'Stage and checklist', hint: 'how far the job is', Sign: Steps },
  { screen: 'document', name: 'Document', hint: 'a paper or a file', Sign: Sheaf },
  { screen: 'camera', name: 'Pictures', hint: 'live screen, gallery', Sign: Camera },
  { screen: 'record', name: 'Record of this job', hint: 'everything, newest first', Sign: Ticks },
  { screen: 'facts', name: 'Facts of this job', hint: 'vehicle, engine, complaint', Sign: Prints },
] as const

/** What is done less often than saying, picturing and measuring. */
export function MoreSheet({ job, onClose }: { job: Job; onClose: () => void }) {
  return (
    <Sheet title="More for this place" onClose={onClose}>
      <ul class="ways">
        {WAYS.map(({ screen, name, hint, Sign }) => (
          <li key={screen}>
            <button
              type="button"
              onClick={() => {
                onClose()
                open(screen, job.id)
              }}
            >
              <Sign size={28} />
              <span>
                <strong>{name}</strong>
                <span class="small soft">{hint}</span>
              </span>
            </button>
          </li>
        ))}
      </ul>
    </Sheet>
  )
}

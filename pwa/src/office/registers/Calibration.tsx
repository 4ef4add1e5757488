import { say } from '../frame/say.ts'
import { dateWords, dueWords, today } from './measuring/dates.ts'

interface Calibrated {
  calibrated: string
  certificate: string
  due: string
  overdue: boolean
  retired: boolean
}

/** Two cells of a register: when it was calibrated, and when that runs out. */
export function CalibrationCells({ of: { calibrated, certificate, due, overdue, retired } }: { of: Calibrated }) {
  return (
    <>
      <td data-word={say('registers.column_calibrated')}>
        {calibrated ? dateWords(calibrated) : say('registers.not_given')}
        {certificate && <span class="soft gauge-paper own-line small">{certificate}</span>}
      </td>
      <td data-word="">
        {retired ? say('registers.retired') : <span class={overdue ? 'caution is-late' : ''}>{dueWords(due, today())}</span>}
      </td>
    </>
  )
}

/** What is in use before what is retired. */
export function inUseFirst<T extends { retired: boolean }>(register: T[]): T[] {
  return [...register.filter(({ retired }) => !retired), ...register.filter(({ retired }) => retired)]
}

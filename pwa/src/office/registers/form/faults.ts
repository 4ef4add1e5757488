import type { FieldFault } from '../../../trade/ground/errors.ts'

/** The words of all faults of a field or of what it holds: "banks" includes "banks.0.code". */
export function faultsAt(faults: FieldFault[], field: string): string {
  return faults
    .filter(({ where }) => where === field || where.startsWith(`${field}.`))
    .map(({ message }) => message)
    .join(' ')
}

/** The words of the faults of a whole list or line that belong to none of its fields. */
export function faultsOnlyAt(faults: FieldFault[], field: string): string {
  return faults
    .filter(({ where }) => where === field)
    .map(({ message }) => message)
    .join(' ')
}

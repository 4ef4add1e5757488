// The errors of the trade: each carries a sentence that a technician may read.

/** Something was offered that the workshop's record cannot take. */
export class Refusal extends Error {
  constructor(
    readonly code: string,
    readonly where: string,
    message: string,
  ) {
    super(message)
    this.name = 'Refusal'
  }
}

/** What is made, or null where that is refused. */
export function orNull<T>(make: () => T): T | null {
  try {
    return make()
  } catch (error) {
    if (error instanceof Refusal) return null
    throw error
  }
}

/** What is wrong with a field of a form. */
export interface FieldFault {
  where: string
  message: string
}

/** A fault as the server answers it. */
export interface Fault extends FieldFault {
  /** The key of the message in the catalogue. */
  code: string
}

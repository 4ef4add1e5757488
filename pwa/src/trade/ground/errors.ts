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

export interface Fault {
  where: string
  message: string
}

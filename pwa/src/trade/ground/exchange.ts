// The files in which the workshop's data travel to another workshop: the twin of trade/exchange.py.

import { Refusal } from './errors.ts'
import * as shapes from './shapes.ts'

/** One sort of file: its `format` line, the `field` that holds the data, and what that is in words ("a procedure"). */
export class Exchange<Data> {
  constructor(
    readonly format: string,
    readonly field: string,
    readonly words: string,
  ) {}

  /** The file: the same text for the same data. */
  write = (data: Data): string => `${JSON.stringify(inOrder({ format: this.format, [this.field]: data }), null, 2)}\n`

  /** The data in such a file. Throws Refusal for another file; faults of the data are their check's to find. */
  read = (file: string): unknown => {
    let body: unknown
    try {
      body = JSON.parse(file)
    } catch {
      throw new Refusal('bad_file', 'file', 'This file is not JSON text. Choose a file exported here.')
    }
    if (!shapes.isObject(body) || body['format'] !== this.format || !shapes.isObject(body[this.field])) {
      const reason = `This file does not say "${this.format}". Choose ${this.words} exported from a witnessmark workshop.`
      throw new Refusal('bad_file', 'format', reason)
    }
    return body[this.field]
  }
}

/** The value with the fields of every object in the order of their names. */
export function inOrder(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(inOrder)
  if (!shapes.isObject(value)) return value
  return Object.fromEntries(Object.keys(value).sort().map((name) => [name, inOrder(value[name])]))
}

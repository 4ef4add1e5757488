// A job's facts as they stand now, which the server folds in its record/jobs.py, and the number proposed for a new job.

export interface JobFacts {
  number: string
  vehicle: string
  registration: string
  engine_type: string
  engine_number: string
  distance: string
  distance_unit: string
  complaint: string
  received_as: string
  earlier_job: string
  stage: string | null
}

const FIRST_NUMBER = 1001

/** The next number after all known ones; with the letter of the phone, so that two phones without signal differ. */
export function proposeNumber(known: Iterable<string>, letter = ''): string {
  let highest = FIRST_NUMBER - 1
  let counted = false
  for (const number of known) {
    const found = /^[0-9]{1,9}(?![0-9])/.exec(number.trim())
    if (!found) continue
    highest = counted ? Math.max(highest, Number(found[0])) : Number(found[0])
    counted = true
  }
  return `${highest + 1}${letter}`
}


// What can be said and what it means, for the worker.
import type { Language } from './recognise.ts'

const DIGITS: Record<string, string> = {
  zero: 'Z IH R OW', oh: 'OW', one: 'W AH N', two: 'T UW', three: 'TH R IY', four: 'F AO R', five: 'F AY V',
  six: 'S IH K S', seven: 'S EH V AH N', eight: 'EY T', nine: 'N AY N', point: 'P OY N T',
}

export const language: Language = {
  grammar: () => ({
    jsgf: `#JSGF V1.0;\ngrammar spoken;\npublic <line> = <digit>+ [ point <digit>+ ];\n<digit> = ${Object.keys(DIGITS).filter((w) => w !== 'point').join(' | ')};\n`,
    dictionary: Object.entries(DIGITS).map(([word, phones]) => `${word} ${phones}\n`).join(''),
  }),
  read: () => null,
  senseless: () => false,
}

// Finds words for people that stand in the code instead of the catalogue of sentences:
//   node support/stray_sentences.mjs src/bay src/parts
import { readFileSync, readdirSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { parseSync } from 'vite'

/** Attributes that nobody reads. */
const TECHNICAL = new Set(
  ('class className id type href src key name role for htmlFor inputmode inputMode autocomplete autoComplete autocapitalize ' +
    'spellcheck d viewBox points transform fill stroke rel target method accept pattern style xmlns textAnchor text-anchor ' +
    'preserveAspectRatio aria-hidden aria-live aria-current aria-controls aria-labelledby aria-describedby aria-haspopup ' +
    'aria-orientation enterkeyhint enterKeyHint lang dir sandbox scope shape kind stroke-dasharray clip-path').split(' '),
)
/** Calls whose text is for programs or for whoever debugs them. */
const UNREAD_CALLS = /^(Error|TypeError|RangeError|URL|RegExp|querySelector|querySelectorAll|closest|matches|matchMedia|getElementById|addEventListener|removeEventListener|createElement|createElementNS|setAttribute|getAttribute|setProperty|startsWith|endsWith|includes|split|join|replace|replaceAll|say|postMessage|transaction|objectStore|createObjectStore|createIndex|append|set|get|header|debug|warn|error|DOMException)$/

/** Codes of verdicts, as entries and vectors have them (their words stand in the catalogue), and a command as it is typed. */
const CODES = new Set(['not proven', 'no limit', 'witnessmark speech'])

/** Texts that no person reads, by the end of the file's path. */
const EXCEPTIONS = {
  'bay/measuring/grid.ts': ['no limit'], // a standing, as the trade's sheets name it
  'bay/measuring/useWith.ts': ['measured with'], // keys under which the phone remembers what was used last
  'bay/speaking/speech.ts': ['say the next number', 'show what this browser hears'],
  'bay/tightening/tools.ts': ['torque tool/0'],
  'office/frame/About.tsx': ['python3 verify.pyz', 'sha256sum -c manifest-sha256.txt'], // commands as they are typed
  'office/frame/Bar.tsx': ['witnessmark'], // the program's own name
  'office/frame/api.ts': ['sha256 0,type 0'], // metadata of tus
  'office/registers/engine_types/FormParts.tsx': ['inlet exhaust'], // codes
  'parts/figures/Guide.tsx': ['small soft'], // classes
  'sync/api.ts': ['Bearer 0'], // a header of HTTP
  'sync/heads.ts': ['0 against 0'], // the key of a row that holds two heads that differ
  'sync/media.ts': ['sha256 0,type 0'], // metadata of tus
  'speech/recognise.ts': ['0, vocabulary 0'], // recorded with what was heard: which recogniser it was
  'speech/worker.ts': ['0, model 0'],
  'trade/measuring/uncertainty.ts': ['permissible error'], // the code of a budget's source
  'trade/measuring/unproven.ts': ['permissible error'],
}

const TWO_WORDS = /(^|[\s“‘(])[A-Za-z][A-Za-z’'-]+[,;:.]? [A-Za-z][A-Za-z’'-]+/
const COUNTED = /(^|\s)0 [a-z]{3,}|[a-z]{3,} 0/
const LABEL = /^[A-Z][a-z]+[a-z’'. :…?]*$/
const SPELLED = /^[A-Za-z][A-Za-z’'-]*[A-Za-z]/

/** Strays of one file: [{line, text}]. */
export function strays(path, source = readFileSync(path, 'utf8')) {
  const { program, errors } = parseSync(path, source)
  if (errors.length) throw new Error(`${path}: ${errors[0].message}`)
  const shownTexts = []
  const lineOf = (offset) => source.slice(0, offset).split('\n').length
  const known = Object.entries(EXCEPTIONS).flatMap(([end, texts]) => (path.endsWith(end) ? texts : []))
  const note = (node, raw) => {
    const text = raw.trim().replace(/\s+/g, ' ')
    if (!known.includes(text)) shownTexts.push({ line: lineOf(node.start), text })
  }
  walk(program, { shown: false })
  return shownTexts

  function walk(node, at) {
    if (!node || typeof node !== 'object') return
    if (Array.isArray(node)) return node.forEach((child) => walk(child, at))
    switch (node.type) {
      case 'ImportDeclaration':
      case 'ExportAllDeclaration':
      case 'TSLiteralType':
      case 'TSTypeLiteral':
      case 'TSInterfaceDeclaration':
      case 'TSTypeAliasDeclaration':
        return
      case 'JSXText':
        if (/[A-Za-z]{2,}/.test(node.value) && !CODES.has(node.value)) note(node, node.value)
        return
      case 'JSXAttribute': {
        const name = node.name.type === 'JSXNamespacedName' ? node.name.name.name : node.name.name
        if (TECHNICAL.has(name) || name.startsWith('data-')) return
        return walk(node.value, { shown: node.value?.type === 'Literal' })
      }
      case 'JSXExpressionContainer':
        return walk(node.expression, { shown: true })
      case 'BinaryExpression':
        if (/^[=!]==?$|^in$/.test(node.operator)) return
        break
      case 'SwitchCase':
        return walk(node.consequent, at)
      case 'CallExpression':
      case 'NewExpression': {
        const name = node.callee.name ?? node.callee.property?.name ?? ''
        walk(node.callee, { shown: false })
        if (UNREAD_CALLS.test(name)) return node.arguments.filter((a) => !/Literal/.test(a.type)).forEach((a) => walk(a, { shown: false }))
        return node.arguments.forEach((argument) => walk(argument, { shown: false }))
      }
      case 'ArrowFunctionExpression':
      case 'FunctionExpression':
        return walk(node.body, { shown: false })
      case 'MemberExpression':
        return walk(node.object, at)
      case 'Property':
        return walk(node.value, at)
      case 'Literal':
        if (typeof node.value === 'string' && read(node.value, at)) note(node, node.value)
        return
      case 'TemplateLiteral': {
        const text = node.quasis.map((quasi) => quasi.value.cooked).join('0')
        if (read(text, at)) note(node, text)
        return node.expressions.forEach((expression) => walk(expression, { shown: false }))
      }
    }
    for (const [key, child] of Object.entries(node)) {
      if (key !== 'type' && key !== 'typeAnnotation' && key !== 'typeArguments' && child && typeof child === 'object') walk(child, at)
    }
  }
}

const read = (text, at) =>
  !CODES.has(text) && (TWO_WORDS.test(text) || COUNTED.test(text) || (at.shown && (LABEL.test(text) || (SPELLED.test(text) && / /.test(text)))))

export function files(folder) {
  if (statSync(folder).isFile()) return [folder]
  return readdirSync(folder, { recursive: true })
    .map((name) => join(folder, name))
    .filter((name) => /\.tsx?$/.test(name) && !/\.test\.tsx?$|\.d\.ts$/.test(name))
    .sort()
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  let count = 0
  for (const path of process.argv.slice(2).flatMap(files)) {
    for (const { line, text } of strays(path)) {
      count += 1
      console.log(`${path}:${line}: ${text}`)
    }
  }
  console.log(`${count} strays`)
}

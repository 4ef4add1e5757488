import { PARTS } from '../../../trade/engine/parts.ts'
import { gridCodes, pointWords, readingCodes, WALKS, type Procedure, type ProcedureReading } from '../../../trade/measuring/procedures.ts'
import { GridDrawing, isDrawn } from '../../../parts/grid/GridDrawing.tsx'
import { FactList, type Fact } from '../../frame/FactList.tsx'
import { PageHead } from '../../frame/PageHead.tsx'
import { address } from '../../frame/route.ts'
import { say } from '../../frame/say.ts'
import { isManager } from '../../frame/session.ts'
import type { ProcedureListed } from '../measuring/shapes.ts'
import { acrossWords, figureWords, quantityWords } from './line_words.ts'

/** One procedure: its drawing, what is read, what is worked out and by which definition. */
export function ProcedureView({ procedure, built_in }: ProcedureListed) {
  const facts = { part: PARTS[procedure.part]?.name ?? procedure.part, edition: procedure.edition }
  return (
    <section class="page procedure-page" aria-labelledby="procedure-title">
      <PageHead id="procedure-title" title={procedure.name} acts={<Acts code={procedure.code} builtIn={built_in} />}>
        <p class="soft">{built_in ? say('procedures.built_in_facts', facts) : say('procedures.own_facts', facts)}</p>
      </PageHead>
      {procedure.cautions.map((caution) => (
        <p key={caution} class="caution noted figures-caution">
          {caution}
        </p>
      ))}
      <div class="procedure-sheet parted headed">
        <div>
          <ProcedureDrawing procedure={procedure} />
          <p class="page-words">{procedure.about}</p>
        </div>
        <div>
          <section aria-label={say('procedures.readings')}>
            <h2>{say('procedures.readings')}</h2>
            <FactList facts={readingFacts(procedure)} />
          </section>
          <WorkedOut procedure={procedure} />
        </div>
      </div>
    </section>
  )
}

function Acts({ code, builtIn }: { code: string; builtIn: boolean }) {
  return (
    <>
      <a class="act" href={`/api/procedures/${code}/file`} download>
        {say('registers.export_file')}
      </a>
      {isManager.value && (
        <a class="act" href={address(['procedures', code, builtIn ? 'own' : 'edit'])}>
          {builtIn ? say('procedures.make_own') : say('common.edit')}
        </a>
      )}
    </>
  )
}

function readingFacts(procedure: Procedure): Fact[] {
  const quantity = quantityWords(procedure.quantity)
  const optional = procedure.optional.map((code) => pointWords(procedure, code)).join('; ')
  const inGrid: Fact[] = [
    ...procedure.grid.map(({ words, values }): Fact => [words, values.map((value) => value.words).join(', ')]),
    [say('procedures.fact_each'), optional ? say('procedures.quantity_and_optional', { quantity, optional }) : quantity],
  ]
  return [
    ...(procedure.grid.length ? inGrid : []),
    ...procedure.readings.map((reading): Fact => [reading.words, separateWords(reading)]),
    [say('procedures.fact_order'), WALKS[procedure.walk]],
    ...procedure.sizes.map(({ words, many }): Fact => [words, many ? say('procedures.engine_type_sizes') : say('procedures.engine_type_size')]),
  ]
}

function separateWords({ quantity, optional, borrow }: ProcedureReading): string {
  return [
    quantityWords(quantity),
    optional && say('procedures.optional'),
    borrow && say('procedures.carried_over', { procedure: borrow.procedure.replaceAll('_', ' ') }),
  ]
    .filter(Boolean)
    .join(', ')
}

function WorkedOut({ procedure }: { procedure: Procedure }) {
  return (
    <section aria-label={say('procedures.worked_out')}>
      <h2>{say('procedures.worked_out')}</h2>
      <dl class="facts facts-wide">
        {procedure.figures.map((line) => (
          <div key={line.code}>
            <dt>{line.words}</dt>
            <dd>
              {line.definition}
              <span class="soft line-formula own-line small">{figureWords(line, procedure)}</span>
              {line.guide && <span class="soft line-formula own-line small">{say('procedures.guide', { guide: line.guide.words })}</span>}
            </dd>
          </div>
        ))}
        {procedure.across.map((line) => (
          <div key={line.code}>
            <dt>{line.words}</dt>
            <dd>
              {line.definition}
              <span class="soft line-formula own-line small">{acrossWords(line, procedure)}</span>
            </dd>
          </div>
        ))}
      </dl>
    </section>
  )
}

/** The drawing that a phone shows, here with every place of the grid marked. */
export function ProcedureDrawing({ procedure }: { procedure: Procedure }) {
  if (!isDrawn(procedure.drawing)) return null
  return (
    <div class="procedure-drawing">
      <GridDrawing
        drawing={procedure.drawing}
        axes={procedure.grid}
        readings={readingCodes(procedure).map((code) => ({ code, words: pointWords(procedure, code) }))}
        next={gridCodes(procedure)[0] ?? procedure.readings[0]?.code ?? ''}
        taken={new Set()}
      />
    </div>
  )
}

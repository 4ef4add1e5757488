import { GridDrawing, isDrawn } from '../../../parts/grid/GridDrawing.tsx'
import { PARTS } from '../../../trade/engine/parts.ts'
import { gridCodes, pointWords, readingCodes, WALKS, type Procedure } from '../../../trade/measuring/procedures.ts'
import { QUANTITIES } from '../../../trade/ground/units.ts'
import { PageHead } from '../../frame/PageHead.tsx'
import { address } from '../../frame/route.ts'
import { isManager } from '../../frame/session.ts'
import { acrossWords, figureWords } from './operations.ts'
import type { ProcedureListed as Listed } from '../measuring/shapes.ts'

export function quantityWords(code: string): string {
  return QUANTITIES.find((one) => one.code === code)?.words ?? code
}

/** One procedure: its drawing, what is read, what is worked out and by which definition. */
export function ProcedureView({ procedure, built_in }: Listed) {
  return (
    <section class="page procedure-page" aria-labelledby="procedure-title">
      <PageHead
        id="procedure-title"
        title={procedure.name}
        acts={
          <>
            <a class="act" href={`/api/procedures/${procedure.code}/file`} download>
              Export as a file
            </a>
            {isManager.value && (
              <a class="act" href={address(['procedures', procedure.code, built_in ? 'own' : 'edit'])}>
                {built_in ? 'Make our own from it' : 'Describe anew'}
              </a>
            )}
          </>
        }
      >
        <p class="soft">
          {PARTS[procedure.part]?.name ?? procedure.part}, {built_in ? 'comes with the program' : 'our own'}, edition{' '}
          {procedure.edition}
        </p>
      </PageHead>
      {procedure.cautions.map((caution) => (
        <p key={caution} class="caution figures-caution">
          {caution}
        </p>
      ))}
      <div class="procedure-sheet">
        <div>
          <ProcedureDrawing procedure={procedure} />
          <p class="page-words">{procedure.about}</p>
        </div>
        <div>
          <section aria-label="Read">
            <h2>Read</h2>
            <dl class="facts facts-wide">
              {procedure.grid.map((axis) => (
                <div key={axis.axis}>
                  <dt>{axis.words}</dt>
                  <dd>{axis.values.map(({ words }) => words).join(', ')}</dd>
                </div>
              ))}
              {procedure.grid.length > 0 && (
                <div>
                  <dt>each time</dt>
                  <dd>
                    {quantityWords(procedure.quantity)}
                    {procedure.optional.length > 0 &&
                      `; may be left out: ${procedure.optional.map((code) => pointWords(procedure, code)).join('; ')}`}
                  </dd>
                </div>
              )}
              {procedure.readings.map((one) => (
                <div key={one.code}>
                  <dt>{one.words}</dt>
                  <dd>
                    {quantityWords(one.quantity)}
                    {one.optional && ', may be left out'}
                    {one.borrow && `, taken over from ${one.borrow.procedure.replaceAll('_', ' ')} where it was measured`}
                  </dd>
                </div>
              ))}
              <div>
                <dt>order</dt>
                <dd>{WALKS[procedure.walk]}</dd>
              </div>
              {procedure.sizes.map((one) => (
                <div key={one.code}>
                  <dt>{one.words}</dt>
                  <dd>of the engine type{one.many && ', several'}</dd>
                </div>
              ))}
            </dl>
          </section>
          <section aria-label="Worked out">
            <h2>Worked out</h2>
            <dl class="facts facts-wide">
              {procedure.figures.map((line) => (
                <div key={line.code}>
                  <dt>{line.words}</dt>
                  <dd>
                    {line.definition}
                    <span class="soft line-formula">{figureWords(line, procedure)}</span>
                    {line.guide && <span class="soft line-formula">Guide, common practice: {line.guide.words}</span>}
                  </dd>
                </div>
              ))}
              {procedure.across.map((line) => (
                <div key={line.code}>
                  <dt>{line.words}</dt>
                  <dd>
                    {line.definition}
                    <span class="soft line-formula">{acrossWords(line, procedure)}</span>
                  </dd>
                </div>
              ))}
            </dl>
          </section>
        </div>
      </div>
    </section>
  )
}

/** The drawing that a phone shows, here with every place of the grid marked. */
export function ProcedureDrawing({ procedure }: { procedure: Procedure }) {
  if (!isDrawn(procedure.drawing)) return null
  const first = gridCodes(procedure)[0] ?? procedure.readings[0]?.code ?? ''
  return (
    <div class="procedure-drawing">
      <GridDrawing
        drawing={procedure.drawing}
        axes={procedure.grid}
        readings={readingCodes(procedure).map((code) => ({ code, words: pointWords(procedure, code) }))}
        next={first}
        taken={new Set()}
      />
    </div>
  )
}

// What the builds of both faces have in common. Each face is one bundle: an update can never leave half an app behind.
import { fileURLToPath } from 'node:url'
import type { UserConfig } from 'vite'

export const here = (path: string) => fileURLToPath(new URL(path, import.meta.url))

export function face(name: 'bay' | 'office', base: string): UserConfig {
  return {
    root: here(`./${name}`),
    base,
    publicDir: here(`./public/${name}`),
    resolve: { alias: { '/src': here('./src') } },
    oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
    server: { fs: { allow: [here('..')] } },
    build: {
      outDir: here(`./dist/${name}`),
      emptyOutDir: true,
      target: 'es2022',
      assetsInlineLimit: 0,
      modulePreload: false,
      rolldownOptions: { output: { codeSplitting: false } },
    },
  }
}

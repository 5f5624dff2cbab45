import { svelte } from '@sveltejs/vite-plugin-svelte'
import { defineConfig } from 'vitest/config'

// While developing, `npm run dev` serves the page and hands API calls to a `wallwright serve` beside it. The engine answers
// its own page only, so the calls must look like that page's.
const engine = process.env.WALLWRIGHT_ENGINE ?? 'http://127.0.0.1:8470'

export default defineConfig({
  plugins: [svelte()],
  // The Python package serves this folder; it is built by hatch_build.py and never committed.
  build: { target: 'es2022', outDir: '../src/wallwright/studio/static', emptyOutDir: true, chunkSizeWarningLimit: 700 },
  server: { proxy: { '/api': { target: engine, changeOrigin: true, headers: { origin: engine } } } },
  // Without the browser condition Svelte resolves to its server build in tests and refuses to mount.
  resolve: process.env.VITEST ? { conditions: ['browser'] } : undefined,
  test: { environment: 'happy-dom' },
})

/**
 * Builds what is shipped: the command (dist/ebbline.js) and the page (dist/web). Run by `npm run build` and on install.
 * The command's own code is bundled, split where it imports late, so that it starts at once and loads the heavy parts
 * (boards, charts, the store) only when they are needed; packages stay in node_modules.
 *
 *   node src/build.mjs              all of it, into dist
 *   node src/build.mjs page FOLDER  the page alone, into FOLDER (the tests of the page do this)
 */
import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { basename, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const at = (path) => fileURLToPath(new URL(path, import.meta.url));

/** The typeface of pages that are read, as of everything printed (web/type/type.css). */
const TYPE_FILES = [
  '@expo-google-fonts/source-sans-3/400Regular/SourceSans3_400Regular.ttf',
  '@expo-google-fonts/source-sans-3/600SemiBold/SourceSans3_600SemiBold.ttf',
];

/** Style sheets of pages that are fetched later: web/feeds/feeds.css becomes parts/feeds.css. */
function ownStyles() {
  const rooms = readdirSync(at('web')).filter((room) => existsSync(at(`web/${room}/${room}.css`)));
  return Object.fromEntries(rooms.map((room) => [`parts/${room}`, at(`web/${room}/${room}.css`)]));
}

async function buildPage(folder) {
  mkdirSync(folder, { recursive: true });
  const common = { outdir: folder, bundle: true, minify: true, logLevel: 'warning' };
  await Promise.all([
    build({
      ...common,
      entryPoints: {
        page: at('web/main.tsx'),
        join: at('web/join/join.ts'),
        board: at('web/board/main.tsx'),
      },
      format: 'esm',
      splitting: true,
      chunkNames: 'parts/[name]-[hash]',
      target: 'es2022',
      jsx: 'automatic',
      jsxImportSource: 'preact',
    }),
    build({
      ...common,
      entryPoints: { page: at('web/style/page.css'), ...ownStyles() },
      external: ['/type/*'],
      target: ['chrome111', 'firefox113', 'safari16.4'],
    }),
  ]);
  mkdirSync(join(folder, 'type'), { recursive: true });
  for (const path of TYPE_FILES) {
    copyFileSync(createRequire(import.meta.url).resolve(path), join(folder, 'type', basename(path)));
  }
  for (const path of ['index.html', 'mark.svg', 'join/join.html', 'board/board.html']) {
    copyFileSync(at(`web/${path}`), join(folder, basename(path)));
  }
}

async function buildCommand(folder) {
  const main = at('cli/main.ts');
  if (!existsSync(main)) return console.log('build: no command yet (src/cli/main.ts is not there)');
  await build({
    entryPoints: { ebbline: main },
    outdir: folder,
    bundle: true,
    splitting: true,
    chunkNames: 'parts/[name]-[hash]',
    platform: 'node',
    format: 'esm',
    target: 'node20',
    packages: 'external',
    logLevel: 'warning',
  });
  // Threads that speak with a database start from a file of their own.
  copyFileSync(at('store/postgres/database-thread.mjs'), join(folder, 'database-thread.mjs'));
  const file = join(folder, 'ebbline.js');
  const text = readFileSync(file, 'utf8');
  if (!text.startsWith('#!')) writeFileSync(file, `#!/usr/bin/env node\n${text}`);
  chmodSync(file, 0o755);
}

const startedMs = performance.now();
const [only, folder] = process.argv.slice(2);
if (only === 'page' && folder) {
  await buildPage(resolve(folder));
} else {
  const dist = at('../dist');
  rmSync(dist, { recursive: true, force: true });
  await Promise.all([buildPage(join(dist, 'web')), buildCommand(dist)]);
  console.log(`build: dist made in ${Math.round(performance.now() - startedMs)} ms`);
}

/** Is `dist` there, and younger than all it is made from? Plain JavaScript, since the test command runs before anything is built. */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));
const BUILT = ['dist/ebbline.js', 'dist/web/index.html', 'dist/web/page.js', 'dist/web/page.css'];
const MADE_FROM = ['src', 'firmware-bridge', 'package.json'];

const changedMs = (path) => statSync(path).mtimeMs;

function newestMs(path) {
  if (!statSync(path).isDirectory()) return changedMs(path);
  return Math.max(...readdirSync(path).map((name) => newestMs(join(path, name))), 0);
}

export function buildIsFresh() {
  const built = BUILT.map((path) => join(root, path));
  if (!built.every((path) => existsSync(path))) return false;
  const oldestMs = Math.min(...built.map(changedMs));
  return MADE_FROM.every((path) => newestMs(join(root, path)) <= oldestMs);
}

/** Builds if need be. @returns whether there is a fresh build now */
export function ensureFreshBuild() {
  if (buildIsFresh()) return true;
  const { status } = spawnSync(process.execPath, [join(root, 'src/build.mjs')], {
    cwd: root,
    stdio: ['ignore', 'inherit', 'inherit'],
  });
  return status === 0;
}

/**
 * Programs outside npm that some tests need. On Debian and as root, what is missing is installed; elsewhere it is said
 * plainly, and those tests are left out.
 */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';

const onPath = (name) =>
  (process.env.PATH ?? '').split(delimiter).some((folder) => existsSync(join(folder, name)));

const TOOLS = [
  {
    name: 'chromium',
    packages: ['chromium'],
    leftOut: 'the tests of the page in a browser',
    isThere: () => existsSync('/usr/bin/chromium'),
  },
  {
    name: 'avr-gcc with avr-libc',
    packages: ['gcc-avr', 'avr-libc'],
    leftOut: 'the build of the sleeve’s program',
    isThere: () => onPath('avr-gcc') && existsSync('/usr/lib/avr/include/avr/io.h'),
  },
  {
    name: 'mosquitto with its clients',
    packages: ['mosquitto', 'mosquitto-clients', 'openssl'],
    leftOut: 'the tests of sleeves behind a broker',
    isThere: () =>
      (onPath('mosquitto') || existsSync('/usr/sbin/mosquitto')) &&
      onPath('mosquitto_sub') &&
      onPath('openssl'),
  },
  {
    name: 'PostgreSQL',
    packages: ['postgresql'],
    leftOut: 'the tests of feeds kept in PostgreSQL',
    isThere: () => existsSync('/usr/lib/postgresql') || onPath('initdb'),
  },
  {
    name: 'pdftoppm',
    packages: ['poppler-utils'],
    leftOut: 'the test that reads printed labels off their PDF',
    isThere: () => onPath('pdftoppm'),
  },
  {
    name: 'docker-compose with shellcheck',
    packages: ['docker-compose', 'shellcheck'],
    leftOut: 'the check of the compose file and of the scripts by their own tools',
    isThere: () => onPath('docker-compose') && onPath('shellcheck'),
  },
];

const LOOK_UP_MS = 90_000;
const FETCH_MS = 240_000;
/** Unpacking is not cut off half-way unless it hangs: that would leave the system's packages in disorder. */
const UNPACK_MS = 600_000;

const missing = () => TOOLS.filter((tool) => !tool.isThere());

function apt(options, timeoutMs) {
  const { status } = spawnSync('apt-get', ['-qq', '-o', 'DPkg::Lock::Timeout=60', ...options], {
    stdio: 'ignore',
    timeout: timeoutMs,
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  });
  return status === 0;
}

function install(packages) {
  console.log(`tests: installing ${packages.join(', ')} with apt …`);
  const wanted = ['install', '-y', '--no-install-recommends'];
  return (
    apt(['update'], LOOK_UP_MS) &&
    apt([...wanted, '--download-only', ...packages], FETCH_MS) &&
    apt([...wanted, '--no-download', ...packages], UNPACK_MS)
  );
}

/** Installs what is missing where that is possible, and says what is still missing. */
export function provideSystemTools() {
  const before = missing();
  if (before.length === 0) return;
  const mayInstall = existsSync('/etc/debian_version') && process.getuid?.() === 0 && onPath('apt-get');
  const tried = mayInstall && !install(before.flatMap(({ packages }) => packages));
  const why = mayInstall
    ? tried
      ? ' (apt could not install it)'
      : ''
    : ' (not installed: needs root on Debian)';
  for (const { name, leftOut } of missing())
    console.log(`tests: ${name} is missing${why}; left out: ${leftOut}.`);
}

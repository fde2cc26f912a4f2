import { expect, test } from 'vitest';
import { dataFolder } from '../../src/store/data-folder.ts';

const home = '/home/ada';

test('EBBLINE_DATA wins over XDG', () => {
  const env = { EBBLINE_DATA: '/mnt/feeds', XDG_DATA_HOME: '/xdg' };
  expect(dataFolder({ simulated: false, env, home })).toBe('/mnt/feeds');
});

// XDG Base Directory Specification 0.8, section 3: the default is $HOME/.local/share, also when the variable is empty;
// a relative path is invalid and ignored.
test.each([
  [{ XDG_DATA_HOME: '/xdg' }, '/xdg/ebbline'],
  [{}, '/home/ada/.local/share/ebbline'],
  [{ XDG_DATA_HOME: '' }, '/home/ada/.local/share/ebbline'],
  [{ XDG_DATA_HOME: 'some/where' }, '/home/ada/.local/share/ebbline'],
  [{ EBBLINE_DATA: '', XDG_DATA_HOME: '/xdg' }, '/xdg/ebbline'],
])('the XDG place: %j', (env, folder) => {
  expect(dataFolder({ simulated: false, env, home })).toBe(folder);
});

test('simulated feeds live in a folder of their own', () => {
  expect(dataFolder({ simulated: true, env: { EBBLINE_DATA: '/mnt/feeds' }, home })).toBe(
    '/mnt/feeds/simulated',
  );
});

test('a relative EBBLINE_DATA becomes absolute', () => {
  expect(dataFolder({ simulated: false, env: { EBBLINE_DATA: 'feeds' }, home })).toBe(
    `${process.cwd()}/feeds`,
  );
});

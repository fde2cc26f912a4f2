import type { NetworkInterfaceInfo } from 'node:os';
import { describe, expect, it } from 'vitest';
import { homeNetwork, isInNetwork, isPrivate } from '../../src/server/home-network.ts';

const card = (address: string, part: Partial<NetworkInterfaceInfo> = {}): NetworkInterfaceInfo =>
  ({
    address,
    netmask: '255.255.255.0',
    family: 'IPv4',
    internal: false,
    mac: '00:00:00:00:00:00',
    cidr: null,
    ...part,
  }) as NetworkInterfaceInfo;
const codeOf = (act: () => unknown): unknown => {
  try {
    return act();
  } catch (error) {
    return (error as { code: string }).code;
  }
};

describe('private addresses', () => {
  // RFC 1918, section 3: 10/8, 172.16/12, 192.168/16.
  it.each(['10.0.0.0', '10.255.255.255', '172.16.0.0', '172.31.255.255', '192.168.0.0', '192.168.255.255'])(
    '%s is one',
    (address) => expect(isPrivate(address)).toBe(true),
  );
  it.each(['9.255.255.255', '11.0.0.0', '172.15.255.255', '172.32.0.0', '192.167.255.255', '192.169.0.0'])(
    '%s is not',
    (address) => expect(isPrivate(address)).toBe(false),
  );
});

describe('who stands in the network', () => {
  const network = { address: '192.168.1.7', netmask: '255.255.255.0' };
  it.each(['192.168.1.1', '192.168.1.255', '::ffff:192.168.1.20'])('%s does', (remote) =>
    expect(isInNetwork(remote, network)).toBe(true),
  );
  it.each(['192.168.2.1', '203.0.113.9', '::1', 'fe80::1', '192.168.1', '', undefined])(
    '%s does not',
    (remote) => expect(isInNetwork(remote, network)).toBe(false),
  );
});

describe('the address to share at', () => {
  const interfaces = {
    lo: [card('127.0.0.1', { internal: true })],
    outside: [card('203.0.113.4')],
    home: [card('192.168.1.7'), card('fe80::7', { family: 'IPv6' } as Partial<NetworkInterfaceInfo>)],
  };
  it('is the only private one', () => {
    expect(homeNetwork(null, interfaces)).toEqual({ address: '192.168.1.7', netmask: '255.255.255.0' });
  });
  it('is asked for when there are several', () => {
    const several = { ...interfaces, other: [card('10.1.0.2')] };
    expect(codeOf(() => homeNetwork(null, several))).toBe('share-which-network');
    expect(homeNetwork('10.1.0.2', several)).toMatchObject({ address: '10.1.0.2' });
  });
  it.each(['203.0.113.4', '127.0.0.1', '0.0.0.0', '192.168.1.8', 'home'])('is never %s', (asked) => {
    expect(codeOf(() => homeNetwork(asked, interfaces))).toBe('share-other-address');
  });
  it('is missing without a home network', () => {
    expect(codeOf(() => homeNetwork(null, { outside: [card('203.0.113.4')] }))).toBe('share-no-network');
  });
});

/** Finds this machine's address in the home network. Pure; the caller passes the list of `os.networkInterfaces()`. */
import type { NetworkInterfaceInfo } from 'node:os';
import { PlainError } from '../base/errors.ts';

/** Where the page is shared: an IPv4 address of this machine and the mask of its network. */
export interface HomeNetwork {
  address: string;
  netmask: string;
}

const octets = (address: string): number[] => address.split('.').map(Number);

/** Networks that no router passes on to the internet. Source: RFC 1918, section 3. */
export function isPrivate(address: string): boolean {
  const [a, b] = octets(address) as [number, number];
  return a === 10 || (a === 172 && b >= 16 && b <= 31) || (a === 192 && b === 168);
}

/** @param remote  as a socket gives it; IPv4 in IPv6 form too (RFC 4291, section 2.5.5.2) */
export function isInNetwork(remote: string | undefined, { address, netmask }: HomeNetwork): boolean {
  const plain = remote?.replace(/^::ffff:/i, '') ?? '';
  if (!/^\d{1,3}(\.\d{1,3}){3}$/.test(plain)) return false;
  const [here, there, mask] = [octets(address), octets(plain), octets(netmask)];
  return mask.every((bits, index) => (here[index]! & bits) === (there[index]! & bits));
}

/**
 * @param asked       an address of this machine, or null for the only one
 * @param interfaces  of `os.networkInterfaces()`
 * @throws PlainError when there is none, more than one to choose from, or when `asked` is not a private address of this machine
 */
export function homeNetwork(
  asked: string | null,
  interfaces: NodeJS.Dict<NetworkInterfaceInfo[]>,
): HomeNetwork {
  const own = Object.values(interfaces)
    .flatMap((list) => list ?? [])
    .filter(({ family, internal, address }) => family === 'IPv4' && !internal && isPrivate(address));
  const names = own.map(({ address }) => address).join(', ');
  const [first] = asked === null ? own : own.filter(({ address }) => address === asked);
  if (own.length === 0) {
    throw new PlainError(
      'share-no-network',
      'The page cannot be shared: this computer has no address in a home network.',
      'Connect it to the home’s Wi-Fi or router (private IPv4 addresses), then try again; or leave --share out.',
    );
  }
  if (first === undefined) {
    throw new PlainError(
      'share-other-address',
      `The page cannot be shared at "${asked}": that is not an address of this computer in a home network.`,
      `Choose one of: ${names}.`,
    );
  }
  if (asked === null && own.length > 1) {
    throw new PlainError(
      'share-which-network',
      `The page cannot be shared yet: this computer is in more than one network (${names}).`,
      `Say which: --share ${first.address}.`,
    );
  }
  return { address: first.address, netmask: first.netmask };
}

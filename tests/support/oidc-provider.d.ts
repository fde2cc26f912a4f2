/** oidc-provider has no types; this is the part used by the test of signing in. */
declare module 'oidc-provider' {
  import type { RequestListener } from 'node:http';
  export default class Provider {
    constructor(issuer: string, configuration: Record<string, unknown>);
    callback(): RequestListener;
  }
}

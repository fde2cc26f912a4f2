/** oidc-provider brings no types; what the test of signing in uses of it. */
declare module 'oidc-provider' {
  import type { RequestListener } from 'node:http';
  export default class Provider {
    constructor(issuer: string, configuration: Record<string, unknown>);
    callback(): RequestListener;
  }
}

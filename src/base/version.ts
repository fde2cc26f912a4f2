import packageJson from '../../package.json' with { type: 'json' };

/** Version of this software, as it stands in kept feeds and on graphs. */
export const SOFTWARE_VERSION: string = packageJson.version;

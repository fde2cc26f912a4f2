export declare function buildIsFresh(): boolean;
/** Builds if need be; says whether there is a fresh build now. */
export declare function ensureFreshBuild(): boolean;

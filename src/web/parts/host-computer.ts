/** True on the computer that runs Ebbline itself, false on a device that the page is shared with. */
export const isHostComputer = (): boolean => ['localhost', '127.0.0.1', '[::1]'].includes(location.hostname);

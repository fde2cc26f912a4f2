/** The part of johnny-five 2.1 that is used here. The published types lack `sigint` and contain members that do not exist. */
declare module 'johnny-five' {
  import type { EventEmitter } from 'node:events';
  import type { Firmata } from 'firmata-io';

  class Board extends EventEmitter {
    constructor(options: { io: Firmata; repl: false; debug: false; sigint: false; timeout?: number });
  }
  class RGB {
    constructor(options: { board: Board; pins: { red: number; green: number; blue: number } });
    color(color: { red: number; green: number; blue: number }): this;
  }
  class Button extends EventEmitter {
    constructor(options: { board: Board; pin: number; isPullup: boolean });
  }

  const five: { Board: typeof Board; Led: { RGB: typeof RGB }; Button: typeof Button };
  export default five;
  export type { Board, Button, RGB };
}

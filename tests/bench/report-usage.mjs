/** Loaded into a measured child: tells on file descriptor 3, at its end, what it used. */
import { writeSync } from 'node:fs';

process.on('exit', () => {
  const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage();
  writeSync(3, JSON.stringify({ cpuMicros: userCPUTime + systemCPUTime, maxRssKb: maxRSS }));
});

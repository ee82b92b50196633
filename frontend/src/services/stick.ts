/** A file for a memory stick: what waits here, as a signed bag, for a server out of reach.

Writing it marks nothing as sent: only a server's answer does. */

import { timeIn } from '../domain/days';
import type { BookStore } from '../storage/database';
import type { Clock } from './clock';
import type { KeptDevice } from './device';
import type { Stick, StickFile, StickTell } from './shop_stick';
import type { Sink } from './zip';

export interface StickHost {
  store: BookStore;
  device: KeptDevice;
  clock: Clock;
  /** Most bytes of photographs in one file; the rest stays for the next one. */
  most_bytes?: number;
}

export class KeptStick implements Stick {
  constructor(private readonly host: StickHost) {}

  name(): string {
    const { device, clock } = this.host;
    const [day, time] = [clock.today(), timeIn(clock.zone, clock.now_ms())];
    return `${device.letter ?? 'desk'}-${day}-${time.replace(':', '')}`;
  }

  async write(name: string, sink: Sink, tell: StickTell = () => {}): Promise<StickFile> {
    const { StickWriter } = await import('./stick_file');
    return new StickWriter(this.host).write(name, sink, tell);
  }
}

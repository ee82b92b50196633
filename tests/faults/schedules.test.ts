// Days on five tablets over a bad network: half of CI's 200. `FAULT_SEED` plays one schedule again,
// `FAULT_SCHEDULES` thousands (trials/faults).
import { playSchedules } from './play';

const { FAULT_SEED, FAULT_SCHEDULES = '100', FAULT_FROM = '20251103' } = process.env;

playSchedules(Number(FAULT_SEED ?? FAULT_FROM), FAULT_SEED ? 1 : Number(FAULT_SCHEDULES));

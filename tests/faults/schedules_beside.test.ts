// The other half of CI's 200 schedules, with a server of its own: two processors play them at once.
import { playSchedules } from './play';

const { FAULT_SEED } = process.env;

playSchedules(Number(FAULT_SEED ?? 20251103 + 100), FAULT_SEED ? 1 : 100);

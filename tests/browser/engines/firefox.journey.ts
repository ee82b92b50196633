import { describe } from 'vitest';
import { startFirefox } from './firefox';
import { onePit } from './pit';

describe('one pit in Firefox', () => onePit('firefox', startFirefox));

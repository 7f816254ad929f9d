// The workers, in one file so that what they share is fetched once. Which of them it is, its address says.
import { startBelief } from './belief';
import { startRecord } from './record';
import { startComputing } from './worker';

const START: Record<string, () => void> = { '?record': startRecord, '?belief': startBelief };

(START[location.search] ?? startComputing)();

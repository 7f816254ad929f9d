// The workers, in one file so that what they share is fetched once. Which of them it is, its name says.
import { startBelief } from './belief';
import { startRecord } from './record';
import { startComputing } from './worker';

declare const self: DedicatedWorkerGlobalScope;

const START: Record<string, () => void> = { record: startRecord, belief: startBelief };

(START[self.name] ?? startComputing)();

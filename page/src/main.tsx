import { render } from 'preact';
import { wear } from './look';
import { wearHand } from './settings/hand';
import { App } from './shell';

wear();
wearHand();
render(<App />, document.getElementById('app') as HTMLElement);

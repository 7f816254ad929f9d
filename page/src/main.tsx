import { render } from 'preact';
import { wear } from './look';
import { App } from './shell';

wear();
render(<App />, document.getElementById('app') as HTMLElement);

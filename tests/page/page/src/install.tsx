// Putting the page on the home screen: offered only when the browser offers it.
import { useEffect, useState } from 'preact/hooks';

interface InstallEvent extends Event {
    prompt(): Promise<unknown>;
}

export function InstallButton() {
    const [offer, setOffer] = useState<InstallEvent | null>(null);
    useEffect(() => {
        const keep = (event: Event) => {
            event.preventDefault();
            setOffer(event as InstallEvent);
        };
        const drop = () => setOffer(null);
        addEventListener('beforeinstallprompt', keep);
        addEventListener('appinstalled', drop);
        return () => {
            removeEventListener('beforeinstallprompt', keep);
            removeEventListener('appinstalled', drop);
        };
    }, []);
    if (!offer) return null;
    const install = () => {
        void offer.prompt();
        setOffer(null);
    };
    return (
        <button type="button" class="main-act" onClick={install}>
            Put Baitfall on this device
        </button>
    );
}

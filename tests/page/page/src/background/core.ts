export interface Core {
    answer(command: string, request: string): string;
}
export async function load(_bytes: ArrayBuffer): Promise<Core> {
    throw new Error('no core');
}

/**
 * Modbus devices by a library other than the program's (`jsmodbus`), over TCP or at the far end of a cable. Each unit has registers
 * of its own; a unit that is not there stays silent, as on a real bus; a register that a unit lacks is refused.
 */
import { createServer, type AddressInfo, type Socket } from 'node:net';
import { ModbusRTUResponse, ModbusRTUServer, ModbusTCPResponse, ModbusTCPServer, responses } from 'jsmodbus';
import { SerialPort } from 'serialport';

/** Unit → address → register; what is changed here is what the next question finds. */
export type Devices = Record<number, Record<number, number>>;

interface Request {
  readonly unitId: number;
  readonly body: { readonly fc: 3 | 4; readonly start: number; readonly count: number };
}
type Body = InstanceType<(typeof responses)['ExceptionResponseBody' | 'ReadHoldingRegistersResponseBody' | 'ReadInputRegistersResponseBody']>;
type Reply = { createPayload(): Buffer };
type Asked = (request: Request, answer: (payload: Buffer) => void) => void;

export interface ModbusDevices {
  /** What was asked, in order: `unit/function/address`. */
  readonly asked: readonly string[];
  close(): Promise<void>;
}

/** Modbus application protocol V1.1b3, section 7: illegal data address. */
const illegalAddress = 2;
/** No buffers of the library's own: each question comes to the listener, with its unit. */
const ownRegisters = { holding: undefined, input: undefined } as unknown as { readonly holding: Buffer; readonly input: Buffer };

const answering = (devices: Devices, asked: string[], wrap: (request: Request, body: Body) => Reply): Asked => (request, answer) => {
  const { unitId, body } = request;
  asked.push(`${unitId}/${body.fc}/${body.start}`);
  const device = devices[unitId];
  if (device === undefined) return;
  const words = Array.from({ length: body.count }, (_empty, index) => device[body.start + index]);
  const isWhole = words.every((word) => word !== undefined);
  const Registers = body.fc === 3 ? responses.ReadHoldingRegistersResponseBody : responses.ReadInputRegistersResponseBody;
  const bytes = Buffer.alloc(2 * body.count);
  for (const [index, word] of words.entries()) bytes.writeUInt16BE(word ?? 0, 2 * index);
  answer(wrap(request, isWhole ? new Registers(bytes.length, bytes) : new responses.ExceptionResponseBody(body.fc, illegalAddress)).createPayload());
};
const listen = (server: { on(event: string, listener: never): unknown }, handler: Asked): void => {
  for (const event of ['readHoldingRegisters', 'readInputRegisters']) server.on(event, handler as never);
};

export const devicesOverTcp = async (devices: Devices, port = 0): Promise<ModbusDevices & { readonly port: number }> => {
  const asked: string[] = [];
  const sockets = new Set<Socket>();
  const net = createServer((socket) => {
    sockets.add(socket);
    socket.on('error', () => {});
  });
  listen(new ModbusTCPServer(net, ownRegisters), answering(devices, asked, (request, body) => ModbusTCPResponse.fromRequest(request as never, body)));
  await new Promise<void>((resolve) => void net.listen(port, '127.0.0.1', resolve));
  return {
    asked,
    port: (net.address() as AddressInfo).port,
    close: async () => {
      for (const socket of sockets) socket.destroy();
      await new Promise<void>((resolve) => void net.close(() => resolve()));
    },
  };
};

/** `late`: how long a device thinks about its n-th question. */
export const devicesOnCable = async (devices: Devices, path: string, late: (nth: number) => number = () => 0): Promise<ModbusDevices> => {
  const asked: string[] = [];
  const port = new SerialPort({ path, baudRate: 19_200, autoOpen: false });
  port.on('error', () => {});
  await new Promise<void>((resolve, reject) => port.open((error) => (error === null ? resolve() : reject(error))));
  const answer = answering(devices, asked, (request, body) => ModbusRTUResponse.fromRequest(request as never, body));
  listen(new ModbusRTUServer(port, ownRegisters), (request, send) => {
    const afterMs = late(asked.length);
    answer(request, (payload) => (afterMs === 0 ? send(payload) : void setTimeout(() => send(payload), afterMs)));
  });
  return { asked, close: async () => new Promise<void>((resolve) => (port.isOpen ? port.close(() => resolve()) : resolve())) };
};

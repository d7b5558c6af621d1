import { readFileSync } from 'node:fs';
import { fail, ok, type Result } from '#domain/result.ts';
import type { Config } from './config.ts';

/** The PEM files that encrypted MQTT needs, read before anything else is done. */
export interface MqttFiles {
  readonly tls: { readonly host: string; readonly port: number; readonly certificate: string; readonly key: string } | null;
  readonly authority: string | null;
}

export const readMqttFiles = ({ mqtts, brokerAuthorityFile }: Pick<Config, 'mqtts' | 'brokerAuthorityFile'>): Result<MqttFiles, { readonly code: 'unreadable-file'; readonly message: string }> => {
  try {
    return ok({
      tls: mqtts === null ? null : { host: mqtts.host, port: mqtts.port, certificate: readFileSync(mqtts.certificateFile, 'utf8'), key: readFileSync(mqtts.keyFile, 'utf8') },
      authority: brokerAuthorityFile === null ? null : readFileSync(brokerAuthorityFile, 'utf8'),
    });
  } catch (cause) {
    return fail({ code: 'unreadable-file', message: `A file for encrypted MQTT cannot be read (${cause instanceof Error ? cause.message : String(cause)}). Correct --mqtts-cert, --mqtts-key or --broker-ca.` });
  }
};

import type { Failure } from '../client/call.ts';
import { pastMoment } from '../format/time.ts';
import type { Connection } from '../state/link.ts';
import './lost.css';

/** Said across the whole width while nothing on the screen is live. It goes by itself when the connection is back. */
export const LostBanner = ({ connection, failure, now, zone }: { readonly connection: Connection; readonly failure: Failure | null; readonly now: number; readonly zone: string }) => {
  const since = connection.state === 'lost' && connection.heardAt !== null ? ` since ${pastMoment(connection.heardAt, now, zone)}` : '';
  const why = connection.state === 'lost' ? 'no connection to the shed computer' : (failure?.detail ?? '');
  return (
    <p class="lost" role="alert">
      <strong>Not live{since}</strong>
      <span>{why}; what stands here is old. Trying again.</span>
    </p>
  );
};

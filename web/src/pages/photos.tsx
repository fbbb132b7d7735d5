import { useState } from 'preact/hooks';
import type { PhotoView } from '../ask/ask';
import { ask } from '../ask/ask';
import { forgetPhoto, sendPhotos, takePhoto, waitingPhotos } from '../ask/photos_down';
import { concernsOrder, useAnswer } from '../ask/use_answer';
import { isSamePlace, type PhotoOf } from '../ask/waiting_photos';
import { isHere } from '../ask/who_asks';
import { picturePath, smallPicturePath } from '../frame/route';
import { useStore } from '../frame/store';
import { Mark } from '../marks/mark';
import { momentHere } from '../words/day';
import { photos as t } from '../words/photos';

/** A small copy; where none can be made, the whole picture drawn small. */
function Print({ photo }: { photo: PhotoView }) {
  const [isWhole, setIsWhole] = useState(false);
  return (
    <img src={isWhole ? picturePath(photo.picture) : smallPicturePath(photo.picture)} onError={() => setIsWhole(true)}
      alt={t.shown(photo.who, momentHere(photo.at), photo.note)} loading="lazy" decoding="async" width="160" height="120" />
  );
}

/** Prints in a row; each opens as it was taken. */
export function Photos({ photos, bare = false }: { photos: PhotoView[]; bare?: boolean }) {
  if (photos.length === 0) return null;
  return (
    <ul class="photos">
      {photos.map((photo) => (
        <li key={photo.picture + photo.at}>
          <a href={picturePath(photo.picture)} target="_blank" rel="noopener">
            <Print photo={photo} />
          </a>
          {!bare && <span>{photo.who}, {momentHere(photo.at)}{photo.note && `: ${photo.note}`}</span>}
        </li>
      ))}
    </ul>
  );
}

/** Opens the camera, or the files of a machine without one; and what is still on its way. */
export function TakePhoto({ of }: { of: PhotoOf }) {
  const mine = useStore(waitingPhotos).filter((photo) => isSamePlace(photo.of, of) && isHere(photo.by));
  const waiting = mine.filter((photo) => photo.isWaiting);
  const isKept = waiting.every((photo) => photo.isKept);
  const refused = mine.filter((photo) => photo.refused !== '');
  const take = (input: HTMLInputElement) => {
    const file = input.files?.[0];
    if (file) void takePhoto(of, file);
    input.value = '';  // the same file may be chosen once more
  };
  return (
    <div class="take-photo">
      <label>{t.take}<input class="unseen" type="file" accept="image/*" capture="environment" onChange={(event) => take(event.currentTarget)} /></label>
      <div role="status">
        {mine.length > waiting.length + refused.length && <p class="quiet">{t.sending}</p>}
        {waiting.length > 0 && <p class="care"><Mark shape="dashes" tone="care" /> {(isKept ? t.waits : t.notKept)(waiting.length)} <button type="button" class="plain" onClick={sendPhotos}>{t.again}</button></p>}
      </div>
      {refused.map((photo) => (
        <p key={photo.key} class="complaint" role="alert"><Mark shape="cross" tone="stop" /> {photo.refused} <button type="button" class="plain" onClick={() => forgetPhoto(photo.key)}>{t.forget}</button></p>
      ))}
    </div>
  );
}

const useBikePhotos = (order: string) =>
  useAnswer(`photos ${order}`, () => ask.photosOf(order), concernsOrder(order)).value?.photos ?? [];

/** Photographs of a bike about one thing, and the way to take another. */
export function BikePhotos({ order, about, who }: { order: string; about: string; who: string }) {
  const photos = useBikePhotos(order).filter((photo) => photo.about === about);
  return (
    <>
      <Photos photos={photos} />
      {who !== '' && <TakePhoto of={{ kind: 'bike', order, about, who }} />}
    </>
  );
}

/** Beside what is said with a move: how many photographs show it. */
export function MovePhotos({ order, about, who }: { order: string; about: string; who: string }) {
  const count = useBikePhotos(order).filter((photo) => photo.about === about).length;
  return (
    <div class="move-photos">
      <p class="small">{t.onRecord(count)} {who === '' && t.who}</p>
      <BikePhotos order={order} about={about} who={who} />
    </div>
  );
}

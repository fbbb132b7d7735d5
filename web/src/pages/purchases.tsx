import type { PurchaseView } from '../ask/ask';
import { orderPath, partPath } from '../frame/route';
import { dayShort } from '../words/day';
import { say } from '../words/say';

const t = say.parts;

export function Purchases({ purchases }: { purchases: PurchaseView[] }) {
  if (purchases.length === 0) return <p class="quiet">{t.purchasesNone}</p>;
  return (
    <table class="book fold">
      <thead>
        <tr>
          <th scope="col">{t.purchase}</th><th scope="col">{t.name}</th><th scope="col" class="num">{t.quantity}</th><th scope="col">{t.supplier}</th>
          <th scope="col">{t.forOrder}</th><th scope="col" class="num">{t.placed}</th><th scope="col" class="num">{t.confirmed}</th><th scope="col">{t.state}</th>
        </tr>
      </thead>
      <tbody>
        {purchases.map((p) => (
          <tr key={p.id}>
            <th scope="row">{p.id}</th>
            <td><a href={partPath(p.part)}>{p.name}</a></td>
            <td class="num" data-of={t.quantity}>{p.quantity}</td>
            <td data-of={t.supplier}>{p.supplier}</td>
            <td data-of={t.forOrder}>{p.order ? <a href={orderPath(p.order)}>{p.order}</a> : t.stock}</td>
            <td class="num" data-of={t.placed}>{dayShort(p.placed)}</td>
            <td class="num" data-of={t.confirmed}>{p.confirmed ? dayShort(p.confirmed) : t.notConfirmed}</td>
            <td data-of={t.state}>{p.state}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Counter.Booking;

namespace ShopFloor.Web.Office.Complaints;

/// <summary>The order that makes complained pieces once more: the same piece, finish, picture and text, in the same language, at no price.</summary>
internal static class RemakeOrder
{
    public static OrderInput Of(Order old, IReadOnlyList<Piece> pieces) =>
        new()
        {
            Customer = old.Customer,
            Lines =
            [
                .. old
                    .Lines.OrderBy(l => l.Number)
                    .Select(l => (Line: l, Pieces: pieces.Where(p => p.Line == l.Id).ToList()))
                    .Where(l => l.Pieces.Count > 0)
                    .Select(l => Line(old, l.Line, l.Pieces)),
            ],
            Language = old.Language,
            IsGift = old.IsGift,
            RiskAccepted = old.Agreements.Any(a => a.What == "risk"),
            RightsAccepted = old.Agreements.Any(a => a.What == "picture rights"),
            ContactAgreed = old.Agreements.Any(a => a.What == "contact data"),
            Note = string.Create(
                CultureInfo.InvariantCulture,
                $"Remake of order {old.Number}: {string.Join(", ", pieces.Select(p => p.Code))}"
            ),
        };

    private static LineInput Line(Order old, OrderLine line, List<Piece> pieces) =>
        new()
        {
            Piece = line.Piece,
            Quantity = pieces.Count,
            Finish = line.Finish,
            Picture = line.Picture,
            Placement = line.Placement,
            Texts = line.Texts.Count > 1 ? [.. pieces.Select(p => p.BoundText ?? "")] : line.Texts,
            PriceByHand = 0m,
            PriceReason = string.Create(CultureInfo.InvariantCulture, $"Remake of order {old.Number}"),
        };
}

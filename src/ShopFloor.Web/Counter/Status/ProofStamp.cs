using System.Security.Cryptography;
using System.Text.Json;
using ShopFloor.Data;
using ShopFloor.Domain.Orders;

namespace ShopFloor.Web.Counter.Status;

/// <summary>
/// What of an order the customer looks at to judge it, as one short word. The page sends it back with the answer, so that nobody approves a
/// picture or a text that came after.
/// </summary>
internal static class ProofStamp
{
    /// <summary>The stamp of the order as it is now: pictures, how they lie, and texts. Promise, notes and prices are no part of it.</summary>
    internal static string Of(Order order)
    {
        var shown = order
            .Lines.OrderBy(l => l.Number)
            .Select(l => new
            {
                l.Number,
                l.Finish,
                l.Picture,
                l.Placement,
                l.Texts,
            });
        return Convert.ToHexStringLower(SHA256.HashData(JsonSerializer.SerializeToUtf8Bytes(shown, JsonForms.Default)))[..32];
    }
}

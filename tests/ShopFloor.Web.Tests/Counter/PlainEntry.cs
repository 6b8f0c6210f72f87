using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Counter.Entries;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>What is entered at the Counter for one own plate, all answered.</summary>
internal static class PlainEntry
{
    public static LineEntry Plate(string text) =>
        new()
        {
            IsOwn = true,
            Material = "al",
            Form = Form.Flat,
            Width = "100",
            Height = "60",
            Thickness = "1",
            Value = "20",
            HiddenAnswer = HiddenAnswer.Nothing,
            OldCoat = Answer.No,
            Text = text,
            Finish = Finish.WhiteGround,
        };

    public static OrderEntry Order(string text) =>
        new()
        {
            Name = "Ada Fenwick",
            Email = "ada@shop.example",
            ContactAgreed = true,
            RiskAccepted = true,
            Lines = [Plate(text)],
        };
}

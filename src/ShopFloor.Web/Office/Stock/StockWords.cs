using ShopFloor.Domain.Stock;
using ShopFloor.Web.Shared.Look;

namespace ShopFloor.Web.Office.Stock;

/// <summary>States and reasons of stock in words.</summary>
public static class StockWords
{
    /// <summary>The state as people say it.</summary>
    public static string Of(CanState state) =>
        state switch
        {
            CanState.Unopened => "Unopened",
            CanState.Open => "Open",
            CanState.ExpiresSoon => "Expires soon",
            CanState.Expired => "Expired",
            CanState.Barred => "Barred",
            _ => "Empty",
        };

    /// <summary>How it wants to be seen.</summary>
    public static StatusKind Kind(CanState state) =>
        state switch
        {
            CanState.Unopened => StatusKind.Ready,
            CanState.Open => StatusKind.Running,
            CanState.ExpiresSoon => StatusKind.Attention,
            CanState.Expired or CanState.Barred => StatusKind.Trouble,
            _ => StatusKind.Waiting,
        };

    /// <summary>The reason of a move as people say it.</summary>
    public static string Of(StockReason reason) =>
        reason switch
        {
            StockReason.Delivery => "Came in",
            StockReason.Use => "Used",
            StockReason.UseUndone => "Use taken back",
            StockReason.Correction => "Corrected",
            _ => "Thrown away",
        };

    /// <summary>An amount as it is shown: to a tenth, which is more than can be counted or weighed, and finer only below one.</summary>
    public static decimal Shown(decimal amount) => decimal.Round(amount, Math.Abs(amount) < 1 ? 3 : 1, MidpointRounding.AwayFromZero);

    /// <summary>An amount without needless figures.</summary>
    public static string Amount(decimal amount) => Shown(amount).ToString("#,0.###;−#,0.###", CultureInfo.CurrentCulture);

    /// <summary>A change with its sign.</summary>
    public static string Change(decimal amount) => Shown(amount).ToString("+#,0.###;−#,0.###;0", CultureInfo.CurrentCulture);
}

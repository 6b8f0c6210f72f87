using ShopFloor.Web.Api;

namespace ShopFloor.Web.Office.Keys;

/// <summary>What a key may do, in words: keys of the Office's texts.</summary>
public static class KeyWords
{
    /// <param name="scope">One of <see cref="ApiScopes"/>.</param>
    public static string Of(string scope) =>
        scope switch
        {
            ApiScopes.OrdersIn => "Ask for prices and book orders",
            ApiScopes.StatusOut => "Read orders and where their pieces are",
            ApiScopes.PlanOut => "Read the plan",
            ApiScopes.Calendar => "Read the calendar of promises",
            _ => scope,
        };
}

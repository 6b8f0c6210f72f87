using Microsoft.AspNetCore.Identity;
using ShopFloor.Data;

namespace ShopFloor.Web.Security.Passkeys;

/// <summary>What passkeys need beside Identity's own.</summary>
public static class PasskeySetUp
{
    public static void AddPasskeys(this IServiceCollection services)
    {
        services.AddScoped<PasskeyDomain>();
        services.AddScoped<IPasskeyHandler<Worker>, DomainPasskeys>();
        services.AddScoped<PasskeySignIn>();
        services.AddScoped<OwnPasskeyChange>();
    }
}

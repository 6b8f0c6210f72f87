using System.Threading.RateLimiting;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.RateLimiting;
using Microsoft.OpenApi;
using ShopFloor.Web.Counter.Secrets;
using ShopFloor.Web.Hosting;

namespace ShopFloor.Web.Api;

/// <summary>The HTTP API of version 1: keys, limits, description, addresses.</summary>
public static class ApiSetUp
{
    private const string Root = "/api/v1";
    private const string PerKey = "api";

    public static IServiceCollection AddApi(this IServiceCollection services, HostSettings settings)
    {
        services.AddAuthentication().AddScheme<AuthenticationSchemeOptions, KeySignIn>(KeySignIn.SchemeName, null);
        services.AddKeyedSingleton(KeySignIn.SchemeName, (s, _) => new Misses(s.GetRequiredService<TimeProvider>(), KeySignIn.MostWrong));
        services.AddSingleton<KnownKeys>();
        services.Configure<RateLimiterOptions>(o => Limit(o, settings.ApiCallsPerMinute));
        services.ConfigureHttpJsonOptions(o =>
        {
            o.SerializerOptions.NumberHandling = ApiBody.Form.NumberHandling;
            foreach (var converter in ApiBody.Form.Converters)
                o.SerializerOptions.Converters.Add(converter);
        });
        services.AddOpenApi(
            "v1",
            o =>
            {
                o.ShouldInclude = d => d.RelativePath?.StartsWith("api/v1/", StringComparison.Ordinal) == true;
                o.AddDocumentTransformer((document, _, _) => DescribeAsync(document));
            }
        );
        return services;
    }

    public static void MapApi(this WebApplication app)
    {
        var api = app.MapGroup(Root).RequireRateLimiting(PerKey).DisableAntiforgery();
        api.MapOrdersIn();
        api.MapPicturesIn();
        api.MapStatusOut();
        app.MapOpenApi("/api/{documentName}/openapi.json").AllowAnonymous().RequireRateLimiting(PerKey);
        app.Map("/api/{**rest}", (HttpContext http) => IsNoJson(http.Request) ? Problems.NoJson : Problems.NotHere)
            .AllowAnonymous()
            .RequireRateLimiting(PerKey)
            .ExcludeFromDescription();
    }

    // A call that takes JSON is not found by its address when something else is sent.
    private static bool IsNoJson(HttpRequest request) => HttpMethods.IsPost(request.Method) && !request.HasJsonContentType();

    private static void Limit(RateLimiterOptions o, int perMinute)
    {
        o.AddPolicy(
            PerKey,
            http =>
                RateLimitPartition.GetSlidingWindowLimiter(
                    CallerOf(http),
                    _ => new SlidingWindowRateLimiterOptions
                    {
                        PermitLimit = perMinute,
                        Window = TimeSpan.FromMinutes(1),
                        SegmentsPerWindow = 6,
                    }
                )
        );
        var others = o.OnRejected;
        o.OnRejected = async (rejected, cancel) =>
        {
            if (!rejected.HttpContext.Request.Path.StartsWithSegments("/api", StringComparison.Ordinal))
            {
                await (others?.Invoke(rejected, cancel) ?? ValueTask.CompletedTask);
                return;
            }
            rejected.HttpContext.Response.Headers.RetryAfter = "60";
            await Problems.TooMany.ExecuteAsync(rejected.HttpContext);
        };
    }

    // The hash of a key that is known to be good, never the key. Whatever else is sent could be another word each time: the address counts.
    private static string CallerOf(HttpContext http) =>
        KeySignIn.HashOf(http.Request) is { } hash && http.RequestServices.GetRequiredService<KnownKeys>().Has(hash)
            ? hash
            : http.Connection.RemoteIpAddress?.ToString() ?? "";

    private static Task DescribeAsync(OpenApiDocument document)
    {
        document.Info = new OpenApiInfo
        {
            Title = "ShopFloor",
            Version = "1",
            Description = "Orders in, status out, plan out. Every call carries a key: Authorization: Bearer KEY.",
        };
        document.Servers = [];
        document.Components ??= new OpenApiComponents();
        document.Components.SecuritySchemes = new Dictionary<string, IOpenApiSecurityScheme>(StringComparer.Ordinal)
        {
            ["key"] = new OpenApiSecurityScheme { Type = SecuritySchemeType.Http, Scheme = "bearer" },
        };
        document.Security = [new OpenApiSecurityRequirement { [new OpenApiSecuritySchemeReference("key", document)] = [] }];
        return Task.CompletedTask;
    }
}
